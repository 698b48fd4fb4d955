"""One file a step, in order. A step that was ever released is never changed again."""
