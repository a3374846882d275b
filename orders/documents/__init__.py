"""What a workshop makes from, as files: values in, bytes out. What is made, and when, is in kinds.py and store.py."""
