"""What is read from the picture or an inclinometer where no tape reaches."""
