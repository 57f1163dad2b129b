"""Who did what when, as a picture. Invariant: quotes the events on the axis of clock time; the same words stand in the
drawing, in its description and in the lines of text."""
