"""How each species grows: seeded skeletons of stems, from one table of looks.

* `growing.skeleton(plant_id, length_cm, thickness_mm, seed, stance, stage)`: a stem, grown
* `colours.colours(plant_id, season)`, `colours.tint_of(colours, organ, part)`: what is coloured how
* `surface.surf(blade, t, v)`: the one surface of leaves and petals
* `table.habit(plant_id)`: a plant's row
"""
