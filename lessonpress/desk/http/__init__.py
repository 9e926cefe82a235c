"""Requests and answers: who may ask, what may be asked, and how it is refused."""
