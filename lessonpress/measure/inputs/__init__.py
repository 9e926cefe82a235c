"""What is given and does not change while measuring: how a clip was filmed, and where its marks were seen."""
