"""When each picture was filmed."""
