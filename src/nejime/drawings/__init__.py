"""Plain vector drawings as SVG text, all from one scene.

Everything here is a pure function: a piece in, SVG text out, equal input giving equal bytes. One
user unit is one millimetre of paper; `width` and `height` say so. Lettering is `text_pt` points
high when the drawing is printed at its own width.

* `scene(piece, looks)`: what is where; `looks` by stem id (`Look`), the usual ones where missing
* `elevation(scene, side, words)`: from the front, from the right, from the teacher's side
* `plan(scene, words, turned=…)`: from above; turned by half a turn for the teacher
* `steps(piece, looks, words)`: one small drawing for each thing that is done
* `vessel_icon(vessel, words)`: a vessel with its numbers
* `lean_card`, `bowl_mat`, `cutting_strip`: tools for a whole page at true size, inside margins of
  `pages.MARGIN_MM`; `how_to_measure(shape, words)`: what to measure on a vessel
* `drawing_key(piece, looks)`: the same for pieces that look the same, so that people share drawings
"""

from nejime.drawings.bowl_mat import bowl_mat
from nejime.drawings.cutting_strip import cutting_strip
from nejime.drawings.elevation import elevation
from nejime.drawings.icons import vessel_icon
from nejime.drawings.lean_card import lean_card
from nejime.drawings.measuring import how_to_measure
from nejime.drawings.plan import plan
from nejime.drawings.scene import Look, Scene, drawing_key, scene
from nejime.drawings.steps import Step, steps

__all__ = [
    "Look",
    "Scene",
    "Step",
    "bowl_mat",
    "cutting_strip",
    "drawing_key",
    "elevation",
    "how_to_measure",
    "lean_card",
    "plan",
    "scene",
    "steps",
    "vessel_icon",
]
