//! Every tolerance of the project, with its unit and its reason, from the loosest to the finest within each kind.
//!
//! A tolerance says when two numbers are one: what rounding leaves, what no saw cuts, what no rule shows. None is a size of the
//! trade (a wall, a kerf, a margin): those stand with the rule that uses them. A module that needs another tolerance adds it here.

/// Slack for what just does, mm or degrees: what arithmetic adds to a sum or a distance.
pub const JUST: f64 = 1e-6;

/// An end that reaches less than this beyond the surface on which it lands, mm, is rounding.
pub const LANDS: f64 = 1e-6;

/// How near counts as meeting, mm. At 1e-4 real crossings vanish into overlaps; much below 1e-6 the work grows and
/// rounding at a few metres from the origin shows.
pub const CONTACT_TOLERANCE: f64 = 1e-6;

/// Differences below this, mm, are passed over on the work: a stroke of abrasive paper takes off more.
pub const NOTICEABLE: f64 = 0.05;

/// Lengths that differ by less than this, mm, were reached by another order of the same operations.
pub const ROUNDING: f64 = 1e-9;

/// Nearer to a surface than this, mm, a point lies on it, and a piece shorter than this is none: clipping leaves
/// about 1e-12, and no two surfaces of a real board lie so close.
pub const ON_SURFACE: f64 = 1e-7;

/// A corner of a mesh no farther outside a plane than this, mm, lies on it: what cuts that pass through one corner
/// leave of rounding.
pub const ON_PLANE: f64 = 1e-8;

/// What reaches over each other, or lies apart, by more than this, mm, does so whatever rounding adds.
pub const PLAINLY: f64 = 1e-3;

/// Off an arc's centre by more than this share of its radius, and seen from there by more than so many radians from both ends, a point
/// lies nearer to the arc's place in that direction than to an end, and by far more than rounding.
pub const WELL_OFF: f64 = 0.01;
/// See [`WELL_OFF`], radians.
pub const WELL_INSIDE: f64 = 1e-3;

/// Points nearer to each other than this, mm, are one: crossings are found to it, and copies of a board are alike to
/// about 1e-9.
pub const SAME_POINT: f64 = 1e-6;

/// Cuts of one piece nearer to each other than this, mm, are one: each is found to [`SAME_POINT`].
pub const SAME_CUT: f64 = 2e-6;

/// Places nearer to each other than this, mm, are one where each was found through a crossing and a map: ten times
/// what crossings are found to.
pub const SAME_PLACE: f64 = 1e-5;

/// Ends of parallel lines nearer than this, mm, are one place: both ends are off by [`SAME_PLACE`].
pub const JOINED_OFFSETS: f64 = 2e-5;

/// Closer than this, mm, nothing is cut, drawn or seen: curves are followed to it, and what only grazes by less is
/// passed over.
pub const BELOW_CUTTING: f64 = 1e-4;

/// Points nearer to each other than this, mm, are one to anything a maker does: a fiftieth of a knife line.
pub const BELOW_A_RULE: f64 = 1e-3;

/// Parallel lines of straight pieces and of arcs lie at their distance to within this, mm: what rounding makes of a coordinate
/// of 1 km in some ten operations.
pub const OFFSET_ROUNDING: f64 = 1e-8;

/// Loose ends of parallel lines nearer than this, mm, are joined by a line: where pieces run together the crossings
/// know their ends no better than 0.001 mm.
pub const MENDED: f64 = 2e-3;

/// Parallel lines nearer to each other, or nearer to their source, than this, mm, are not told apart: both may be off
/// by the fit.
pub const FITTED: f64 = 2.5e-3;

/// Curves that stand for others keep to them this closely, mm: a twentieth of a sharp pencil line.
pub const TRUE_TO: f64 = 0.005;

/// Curves of a mesh are followed this closely, mm: half of what two mating surfaces may stand apart.
pub const MATED: f64 = 0.0005;

/// Lengths that differ by less than this, mm, are one to a maker, and an overlap smaller than this is touching: a
/// tenth of what is printed, and no saw, bit or hand works so close.
pub const UNSEEN: f64 = 0.01;

/// A wall that is measured at samples of a curved edge may come out thinner by so much, mm.
pub const SAMPLED: f64 = 0.02;

/// Diameters of tools that differ by less than this, mm, are alike: finer than cutters are sold, and not seen on the
/// work.
pub const TOOL_STEP: f64 = 0.02;

/// Lengths that differ by less than this, mm, read alike: half of the last figure that a person is shown, less than a
/// knife line is wide, and what a clamp closes or a stroke of abrasive paper takes off.
pub const SHOWN: f64 = 0.05;

/// Angles below this, degrees, are square to a person: half of the last figure shown, a tenth of a millimetre over
/// 100.
pub const SHOWN_SQUARE: f64 = 0.05;

/// Settings below this, degrees, are not told apart from square by any saw.
pub const SAW_SQUARE: f64 = 0.005;

/// Angles that differ by less than this, degrees, are one line on the bevel sheet: a person is shown tenths.
pub const ONE_LINE: f64 = 0.02;

/// Edges that meet at a smaller angle than this from straight, radians (1 degree), make no corner.
pub const CORNER: f64 = 0.0175;

/// Edges that meet at less than this angle, radians, are smooth already: rounding would move them by nothing.
pub const SMOOTH: f64 = 1e-5;

/// Edges that meet at less than this angle, radians, flow into each other to the eye: a batten's or a fillet's joints
/// do to 1e-6, and nobody sees an arris of a fifth of a degree.
pub const FLOWING: f64 = 0.0035;

/// Lines that differ in direction by less than this, radians, run beside each other on paper: over the longest sheet
/// they part by less than the gap that is seen.
pub const ALONGSIDE: f64 = 1e-3;

/// Angles below this, radians, are no lean: far below what a gauge shows.
pub const PLUMB: f64 = 1e-4;

/// A lean below this, as a sine, in radians or in mm to a mm, is none: over 100 mm of thickness it comes to 0.1
/// micrometre.
pub const NO_LEAN: f64 = 1e-6;

/// Directions are parallel where the sine between them is below this: over 100 mm it comes to less than a
/// ten-millionth.
pub const PARALLEL: f64 = 1e-9;

/// A line that climbs less than this for each mm against a plane runs along it: over 10 m that is a thousandth of a
/// millimetre at most.
pub const ALONG_PLANE: f64 = 1e-10;

/// Below this length (mm, or the sine of an angle between unit directions) a direction is not to be told from none.
pub const NO_DIRECTION: f64 = 1e-12;

/// A cut this near to the end of a piece, as a share of its parameter, is a cut at its end: rounding puts ends a few
/// parts in 1e16 off the line on which they lie.
pub const AT_END: f64 = 1e-12;

/// How exactly crossings of a line of sight with a rim are found, as a share of a piece, and directions and points
/// that are solved by turns have settled, radians and mm.
pub const EXACT: f64 = 1e-13;

/// What a coefficient or a limit of a linear program comes to, in mm or as a share, that is none: its numbers are lengths up to a few
/// hundred millimetres and cosines, and some hundred steps of elimination leave about 1e-12.
pub const NO_PIVOT: f64 = 1e-9;

/// A cost that falls by less than this a mm, and without end, is what rounding leaves of none.
pub const NO_FALL: f64 = 1e-7;

/// By this share a rise may exceed half the chord, or a radius fall short of it, and shares nearer to each other are one: sums of
/// sizes round.
pub const ROUNDED_SHARE: f64 = 1e-9;

/// Slack, in steps, that floating point may have added to a number that lies on a step.
pub const ON_A_STEP: f64 = 1e-6;

/// Newton's method on a batten ends when the misses, in mean spans, come to less than this.
pub const BATTEN_MET: f64 = 1e-11;

/// What counts as met on a batten where rounding keeps Newton's method from doing better, in mean spans.
pub const BATTEN_NEARLY_MET: f64 = 1e-8;

/// Ends of an SVG path nearer than this, in user units, are one: a hundredth of a hair.
pub const USER_UNITS_JOINED: f64 = 1e-6;

/// A ring that encloses less than this, mm², is what rounding leaves where an edge lies along a straight cut.
pub const CLIP_SLIVER: f64 = 1e-6;

/// A ring that encloses less than this, mm², encloses nothing: a line drawn there and back, or what shallow crossings
/// of parallel lines leave.
pub const NO_AREA: f64 = 1e-3;

/// Words whose direction is off plumb by less than this, radians, run plumb: a line that rounding has tipped over is still read from
/// the right.
pub const PLUMB_WORDS: f64 = 1e-9;

/// A centre line or an axis that rises from a surface by less than this sine has no mouth in it that could be cut or
/// measured.
pub const NO_MOUTH: f64 = 1e-3;

/// The curves of what is taken away or added are followed this closely, mm: nothing is measured on a mesh's mortise.
pub const MESHED: f64 = 0.01;

/// Integrals over curved walls are halved until they change by less than this, mm³ (mm² of an area): a millionth of a
/// millionth of a board.
pub const INTEGRATED: f64 = 1e-6;

/// What stands aside from a wall by more than this, mm, meets none of its lines, whatever was rounded.
pub const ASIDE: f64 = 0.01;

/// Two surfaces nearer to each other than this, mm, are flush: on which side of each other they lie is told by the
/// hair.
pub const FLUSH: f64 = 1e-7;

/// Planes whose normals differ by less than this, radians, are parallel: over a metre that is a millionth of a
/// millimetre.
pub const PARALLEL_PLANES: f64 = 1e-9;

/// A plane that rises against the axis by less than this sine is cut through as one that runs along it: its ellipse
/// would be longer than it can be told to its digits.
pub const ALONG_A_TURNED_AXIS: f64 = 1e-4;

/// Facets that turn against each other by more than this, radians, are flush with one plane over less than a
/// hundredth of a millimetre.
pub const NEARLY_FLAT: f64 = 1e-5;

/// Lines nearer to a plane than this, mm, lie in it but for rounding.
pub const LIES_IN_PLANE: f64 = 1e-10;

/// A plane that rises against an axis by less than this sine runs along it: over a metre that is a hundred-thousandth
/// of a millimetre, and what the plane cuts out of the prism would lose its digits.
pub const ALONG_AN_AXIS: f64 = 1e-8;

/// Findings whose numbers differ by less than this, mm or degrees, say the same of legs that are alike.
pub const ALIKE: f64 = 1e-6;

/// Angles nearer to each other than this, degrees, are one however they are written.
pub const ONE_ANGLE: f64 = 0.001;

/// A length written on a scale of the shop may move by less than this, mm, and is taken for the same.
pub const SETTLED: f64 = 0.0005;

/// Slack, mm, that floating point adds to the distance from a number of a scale.
pub const ON_A_SCALE: f64 = 1e-9;

/// Pieces that run together but for rounding come within this of each other, mm, where crossings do not tell them to
/// overlap.
pub const RUN_TOGETHER: f64 = 1e-8;

/// Corners that lie this near to a straight line, mm², are where two edges of what is looked at fall on one another.
pub const STRAIGHT_CORNER: f64 = 1e-7;

/// Corners whose angles differ by less than this, radians, take one gauge: over its straight edge of 20 mm that is 0.04 mm.
pub const SAME_CORNER: f64 = 0.002;

/// A hair that leaves a plane by more than this sine stands square to it: 0.08 degrees off at most.
pub const SQUARE_TO_PLANE: f64 = 0.999_999;

/// Gauss's points leave out this share of a stretch at either end: where a wall begins or ends there they do not see it.
pub const GAUSS_BLIND: f64 = 0.003;

/// Where the area that is swept changes by more than this over three steps of [`GAUSS_BLIND`], mm², beyond what is straight, a wall
/// begins or ends.
pub const WALL_ENDS: f64 = 1e-2;

/// What is left of terms that cancel each other, as a share of them, and what a sum is off by its own rounding: a few parts in 1e16
/// for each term.
pub const CANCELLED: f64 = 1e-14;

/// Newton's method on a piece has settled where its parameters move by less than this.
pub const NEWTON_SETTLED: f64 = 1e-14;

/// A parameter that moves by less than this stays where it is: less than two numbers near 1 differ by.
pub const STANDS_STILL: f64 = 1e-16;

/// Parameters of a piece nearer to each other than this are one: on a piece of 10 m they lie [`CONTACT_TOLERANCE`] / 100 apart.
pub const SAME_PARAMETER: f64 = 1e-9;

/// A stretch of a piece's parameter shorter than this is none: its ends are known no better ([`AT_END`]).
pub const NO_STRETCH: f64 = 1e-12;

/// A point beside a stretch may lie this far outside its parameters: the stretch was halved down to about that.
pub const BESIDE_STRETCH: f64 = 1e-6;

/// A piece whose derivative is below this, mm for the whole parameter, is at a stand: a slack in parameters would grow without end.
pub const AT_A_STAND: f64 = 1e-3;

/// Rounding of a coordinate at a few metres from the origin, mm.
pub const COORDINATE_ROUNDING: f64 = 4e-12;

/// A leg of a control polygon shorter than this share of it has no direction.
pub const NO_LEG: f64 = 1e-13;

/// Of an arc that turns by less than this beyond a whole turn, radians, the ends are one.
pub const WHOLE_TURN: f64 = 1e-9;

/// A cubic whose third and second difference are parallel to this sine is a parabola or a line, but for rounding.
pub const PARABOLA: f64 = 1e-12;

/// The least product of these differences, mm², that [`PARABOLA`] is taken of: below it there is no curve.
pub const NO_CURVE: f64 = 1e-30;

/// A polygon that encloses less than this share of its squared length encloses nothing, whichever way rounding makes it run.
pub const ENCLOSES_NOTHING: f64 = 1e-9;

/// Curves that bend less than this, 1/mm, are drawn without a comb: a radius of 100 m.
pub const NO_COMB: f64 = 1e-5;

/// Curves with a radius beyond this, mm, are straight to whoever looks whether they are fair.
pub const STRAIGHT_RADIUS: f64 = 2e5;

/// What two radii leave of an edge between them is dropped when shorter than this, mm: the joint is then one place.
pub const NOTHING_LEFT: f64 = 2.0 * CONTACT_TOLERANCE;

/// Pieces of a path may lie this far from the next one's start, mm, and still make one joint.
pub const JOINED: f64 = 4.0 * CONTACT_TOLERANCE;

/// A tangency that stays within tolerance for longer than this, mm, is an overlap: two 100 m arcs touch for 1 mm.
pub const LONG_TANGENCY: f64 = 5.0;

/// Areas that differ by less than this share of them are one: a face that is clipped by what lies beyond it comes back with its area.
pub const SAME_AREA: f64 = 1e-6;

/// How exactly a point of a picture is found on its line, as a share of it.
pub const SEEN_TO: f64 = 1e-12;

/// A board faces a direction squarely where the cosine of its lean is nearer to 1 than what 0.01 mm makes over its thickness.
pub const FACES_SQUARELY: f64 = 1.0 - 1e-8;

/// A direction of the page is plumb where its share upright is at least this.
pub const UPRIGHT: f64 = 1.0 - 1e-9;

/// Surfaces whose normals agree to this cosine bear on each other: a thousandth of a radian.
pub const BEARS_FLAT: f64 = 0.999_999_5;

/// A slot longer than its screw's hole by less than this, mm, is a round hole: less than a drill wanders.
pub const ROUND_SLOT: f64 = 0.1;

/// What stands within this of the floor, mm, is a foot: no floor is as even.
pub const ON_FLOOR: f64 = 0.5;

/// Corners of two boards nearer to each other than this, mm, are one corner to whoever draws them up.
pub const ONE_CORNER: f64 = 0.5;

/// Boards that share less than this, mm, touch: a saw kerf is wider.
pub const TOUCHING: f64 = 0.5;

/// Curves of boards that may run into each other are followed this closely, mm: a fifth of [`TOUCHING`].
pub const CLASH_FOLLOWED: f64 = 0.1;

/// Findings whose numbers differ by no more than this, mm or degrees, are one to whoever reads them.
pub const READ_ALIKE: f64 = 0.5;

/// Pieces of a drawing smaller than this both ways, mm, are crumbs that a drawing program left.
pub const CRUMB: f64 = 0.1;

/// Ends of an open path nearer than this, mm, are meant to meet: the gap is told as such.
pub const NEARLY_CLOSED: f64 = 0.5;

/// The stretch under a caul is measured this far in the wood, mm: within what any saw leaves.
pub const UNDER_CAUL: f64 = 0.1;

/// The smallest share of a step of Newton's method that is tried on a batten.
pub const BATTEN_LEAST_STEP: f64 = 1e-4;

/// By this much, radians or spans, the start of a shot along a batten is nudged to tell how its end moves: central differences are then
/// good to about 1e-10.
pub const BATTEN_NUDGE: f64 = 1e-6;

/// How near to half or whole a turn an arc must not come, radians, to be drawn as one by its end points and radii: there a rounding of
/// the ends moves the centre by many times as much (at exactly half a turn of radius 500 mm, 0.0001 mm at an end moves it by 0.2 mm);
/// at this distance, by three times.
pub const ARC_ILL_SET: f64 = 0.3;

/// Pieces of a board's rim that meet at less than this, radians, are one edge to whoever measures it: a landing stands off its curve by a
/// degree or two.
pub const ONE_EDGE: f64 = 0.14;

/// A part whose middle lies nearer than this, mm, to the plumb line through the middle of the piece has no way outwards.
pub const IN_THE_MIDDLE: f64 = 1.0;

/// Ways on two copies are one where they differ by less than this, as a cosine: a maker takes an arrow for no more than a direction.
pub const ONE_WAY: f64 = 0.9;

/// An edge profile of less than this, mm, is none.
pub const NO_PROFILE: f64 = 0.5;

/// So near to an end of a piece, in its parameter, it is looked at inside: a control point on the end brings it to a stand there.
pub const INSIDE_ENDS: f64 = 1e-6;

/// Pieces whose directions agree to this cosine where they meet go on into each other: 0.08 degrees.
pub const GOES_ON: f64 = 0.999_999;

/// Where a stretch that a tool leaves begins is found to this share of the way from one look to the next.
pub const STRETCH_BEGINS: f64 = 1e-4;

/// What lies on a ball's skin is not in it: a share of its radius.
pub const BALL_SKIN: f64 = 1e-6;

/// What comes off a printer shorter or longer by less than this, mm, is right still: half the width of the line that is cut to.
pub const PRINTED_RIGHT: f64 = 0.25;

/// Corrections of a printer that differ by less than this share draw the longest sheet alike to 0.01 mm.
pub const SAME_CORRECTION: f64 = 1e-5;

/// By so much a length is moved, mm, to tell what follows it: crossings, good to [`SAME_POINT`], then leave 1e-5 of a slope, and what
/// curves over so little less.
pub const LENGTH_NUDGE: f64 = 0.1;

/// By so much an angle is moved, degrees, to tell what follows it: over a metre as far as [`LENGTH_NUDGE`].
pub const ANGLE_NUDGE: f64 = 0.01;

/// A size that moves by less than this for each mm or degree of a number does not follow it: rounding and crossings leave so much
/// over a nudge.
pub const NO_EFFECT: f64 = 1e-4;

/// Slopes to either side that differ by less than this share are one: what curvature makes over a nudge.
pub const ONE_SLOPE: f64 = 0.02;

/// What jumps by more than this, mm or degrees, when a number is nudged is another thing.
pub const JUMPS: f64 = 5.0;
