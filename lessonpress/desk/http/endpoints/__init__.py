"""What each request of the desk does, by what it is about; `routes.py` is the table of them."""
