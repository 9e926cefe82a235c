"""What an author does: marks carried, figures composed, videos brought in."""
