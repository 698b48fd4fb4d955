"""Looking at the work: what was made, measured from photographs.

Points in, lengths and angles out. `picture` alone opens images, `markers` alone knows OpenCV;
everything else is geometry on numbers.
"""
