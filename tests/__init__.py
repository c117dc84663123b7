"""The tests; published figures are in `reference`, and `cases` reads them."""
