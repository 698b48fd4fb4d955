"""Line drawings of plants from their skeletons.

* `drawn.growth(plant, view, mm_per_cm)`: everything that is seen of a stem, the farthest first
* `outlines`: how a sheet, a round body or a thread looks from a side
"""
