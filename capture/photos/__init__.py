"""Photos from phones: taken in parts, checked whole, developed in a child process, kept once.

`uploads` takes the parts and decides what becomes of the whole; `develop` has the file decoded by `child`, a program
of its own that runs under limits and imports nothing of this site.
"""
