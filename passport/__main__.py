"""Lets `python -m passport` do what `passport` does."""

from passport.cli import main

if __name__ == "__main__":
    main()
