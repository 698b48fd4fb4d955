"""Plain vector drawings as SVG text, all from one scene.

Everything here is a pure function: a piece in, SVG text out, equal input giving equal bytes. One
user unit is one millimetre of paper; `width` and `height` say so. Lettering is `text_pt` points
high when a drawing is printed at its own width. `words` (`basis.sayings.Words`) writes the labels
in a language and in cm, inches or both.

* `scene.scene(piece, looks)`: what is where; `looks` by stem id (`scene.Look`), the usual ones of
  the stem's role where one is missing; `scene.drawing_key(piece, looks)` is the same text for
  pieces that look the same, so that people can share a drawing
* `elevation.elevation(scene, side, words)`: from the `front`, the `right`, the `teacher`'s side
* `plan.plan(scene, words, turned=…)`: from above; turned by half a turn for the teacher
* `steps.steps(piece, looks, words)`: one small drawing for each thing that is done
* `icons.vessel_icon(vessel, words)`: a vessel with its numbers
* `measuring.how_to_measure(shape, words)`: what to measure on a vessel
* at true size, for a page with margins of `pages.MARGIN_MM`: `lean_card.lean_card(piece, words)`
  (page on its side), `bowl_mat.bowl_mat(piece, words)` (one sheet or more),
  `cutting_strip.cutting_strip(piece, words)`

`material.material_marks` is the one place where plants are drawn: those that are known as they
grow (`skeleton`, `ink`), the others as small outlines.
"""
