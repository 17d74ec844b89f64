"""Acts and views of the bench: weighing, splitting, answers, the page of one piece."""
