"""What helps to choose: the search in a workshop's drawer, tools side by side, and their leeway."""
