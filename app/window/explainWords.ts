/** What a number says of itself; part of `words`. Each: what it is, its unit, how it was made, its error. */
interface Explanation {
  readonly what: string
  readonly unit: string
  readonly made: string
  readonly error: string
}

const lengths = 'In millimetres or inches, as chosen above.'

const of = (what: string, made: string, error: string, unit = lengths): Explanation => ({ what, unit, made, error })

export const explainWords = {
  row: of(
    'Gap: the shortest distance between the two; a negative one is how deep they overlap. Beside it the clearance required and all that is allowed for.',
    'Computed from the solids themselves, never from the drawing; the bar is solid where the gap is certain and hatched where it may end, the tick is the required clearance.',
    'Rounded down, so that it never claims more room than there is; the numerical error stands in the details.',
  ),
  gap: of(
    'Gap: the shortest distance between the two solids.',
    'Computed from the solids themselves, with an upper and a lower bound; rounded down.',
    'The true distance is no less than this less the error.',
  ),
  required: of(
    'Required: the clearance that is asked for.',
    'From the bay, or the default of the keep-out’s role (common practice, no source), as the note below says.',
    'Exact: it is a wish, not a measurement.',
  ),
  margin: of(
    'Margin: what is left of the gap once error, tolerance, uncertainty and the required clearance are taken off. At 0 or above it clears.',
    'Gap − error − tolerance − uncertainty − required; rounded down.',
    'None that counts against you: all errors are taken off already.',
  ),
  tolerance: of(
    'Tolerance: what manufacture may add to the part, and how far joints and ports may be off.',
    'From the candidate and its ports.',
    'Taken in full against the gap.',
  ),
  uncertainty: of(
    'Uncertainty: how far the measured surface may be off.',
    'Expanded, k = 2, about 95 %: from the keep-out, or the default of ±3 mm, as the note below says.',
    'Taken in full against the gap.',
  ),
  error: of(
    'Error: a bound on the numerical error of the gap.',
    'The difference between the upper and the lower bound of the computed distance.',
    'Rounded up.',
  ),
  place: of(
    'Where the gap is smallest: a point on each of the two.',
    'X rearward, Y to the right, Z up, from the origin in the foot of the window.',
    'Where surfaces are parallel, any of several places is as near.',
  ),
  overlap: of(
    'Overlap: how far the two solids go into each other.',
    'Exact between convex bodies, else “at least”; with the shortest way out where it is known.',
    'Rounded up.',
  ),
  largest: of(
    'Largest core: the greatest volume of a core that clears with its tanks, stubs and mounts, within the limits.',
    'Searched with a bound that no core can exceed; the core that was found is checked by the gap ledger. Pipes are left out.',
    'Rounded down; “at most” beside it is the bound, rounded up.',
    'In litres.',
  ),
  largestSize: of(
    'Depth, width and height of that core, and where its centre is.',
    'Rounded down to stock sizes and rows where the limits name them.',
    'A little smaller always fits; a little larger is not proved to.',
  ),
  seated: of(
    'Largest that can be offered up: the greatest core found that clears at its seat and has a proved way in.',
    'Cores are tried from large to small; each one’s moves are proved over the whole motion. Pipes are left out.',
    'Rounded down; the bounds beside it are rounded up, and hold whether a way was found or not.',
    'In litres.',
  ),
  depthFace: of(
    'Face: width × height of the largest core of this depth.',
    'Searched for each stock depth, as the largest core is; what was found is checked by the gap ledger.',
    'Found within 0.1 % of what nothing exceeds, unless the row says that it was stopped.',
    'In cm² or square inches.',
  ),
  depthVolume: of(
    'Volume of the core with the largest face of this depth.',
    'Depth × width × height.',
    'Rounded down.',
    'In litres.',
  ),
  bestPlace: of(
    'Best place: where the least margin of core, tanks, stubs and mounts is greatest, with the size as it is.',
    'Searched within the reach and the axes that were allowed, with a bound that no place exceeds.',
    'The margin of the place is rounded down, the bound up.',
  ),
  bendLength: of(
    'Length: the straight before the bend, from tangent point to tangent point; in the last row, to the end of the tube.',
    'From corner points and bend radii.',
    'Geometry is exact; shown to the tenth of a millimetre, or the 64th of an inch.',
  ),
  bendRotation: of(
    'Rotation: how far the tube is turned between the plane of the last bend and that of this one.',
    'From the corner points; which way counts as positive stands below the table.',
    'Geometry is exact; shown to the tenth of a degree.',
    'In degrees.',
  ),
  bendAngle: of(
    'Angle: how far the tube changes direction in the bend; 0 is straight.',
    'From the corner points.',
    'Geometry is exact; shown to the tenth of a degree.',
    'In degrees.',
  ),
  bendRadius: of(
    'Radius of the bend, to the centreline.',
    'From the pipe; whether the bender has such a die is judged apart.',
    'Exact: it is chosen, not measured.',
  ),
  bendSet: of(
    'Angle to set on the machine, so that the tube keeps the angle once it springs back.',
    'From the spring-back of the bender’s own tool.',
    'As good as the shop’s figure; no figure is shown where there is none.',
    'In degrees.',
  ),
  keepOutAsks: of(
    'The clearance that the keep-out asks for, ± how far its measured surface may be off.',
    'From the bay, else the default of its role and ±3 mm (common practice, no source); its editor says which.',
    'The clearance is a wish and exact; the uncertainty is expanded, k = 2, about 95 %.',
  ),
  stageMeasure: of(
    'Keep-outs that are measured, mirrored ones counted twice, and the greatest uncertainty of any.',
    'Counted from the bay; without a figure of its own a keep-out has ±3 mm.',
    'Expanded uncertainty, k = 2, about 95 %.',
  ),
  stageCore: of(
    'Volume of the core that is shown, and its share of the largest that clears.',
    'Depth × width × height, against the largest core that was found.',
    'The share is rounded down: only what reaches the largest has 100 %.',
    'In litres and per cent.',
  ),
  stageGaps: of(
    'How many gaps do not clear, by verdict, or that all do.',
    'Every part against every keep-out, each margin with its errors taken off.',
    'Where it is in doubt it counts as not proved.',
    'A count, without a unit.',
  ),
  stagePipes: of(
    'Pipes that cannot be made yet, with the number of reasons, or that all can.',
    'Each pipe against the bender, its joints and clamps.',
    'As good as the shop’s figures for its tools.',
    'A count, without a unit.',
  ),
  stageSeat: of(
    'Whether it can be offered up: how many moves, and the least margin on the way.',
    'Proved over continuous motion, or told as not decided.',
    'The margin is rounded down.',
  ),
  stageSheets: of(
    'The sheets to build from and to check on the car.',
    'Made from the bay as it is, by the same figures as the stages before.',
    'They say themselves when they are of a former bay.',
    'A count of pages.',
  ),
  compared: of(
    'What candidates are compared by: each column a candidate, a star the best of a row, a dot where they differ.',
    'By the same computing as the stages: gaps, bends, largest core and way in of each.',
    'Margins and volumes are rounded down; a verdict in doubt counts as not proved.',
    'As each row says; lengths in millimetres or inches as chosen.',
  ),
  pipeLength: of(
    'Developed length: along the centreline, straights and arcs together; the cut length takes off what the tube grows in its bends.',
    'From the corner points and bend radii; growth is the bender’s own figure.',
    'Geometry is exact; without the bender’s figure the growth counts as none.',
  ),
  joint: of(
    'How the two tubes of a joint stand to each other, and how far the hose goes over each.',
    'From port and pipe end as they are in the bay, with the movement of the port.',
    'As good as the measured port.',
  ),
  loss: of(
    'Pressure that the flow loses in the pipe, as a band.',
    'From the flow in the conditions of the bay, by several published methods.',
    'The band spans the methods; it is no bound that is proved.',
    'In Pa and kPa, or psi.',
  ),
  seatLeast: of(
    'Least margin on the way: the smallest at any moment of the whole motion, against the clearance wanted on the way.',
    'Proved over continuous motion, with a lower and an upper bound.',
    'The lower bound is rounded down, the upper one up.',
  ),
  seatMiss: of(
    'How near the search came: each side of the part would have to be smaller by this.',
    'The best way that was found, and what still touches on it.',
    'Rounded up; it proves nothing about other ways.',
  ),
}

export type Explains = keyof typeof explainWords

/** All of it in one paragraph. */
export const explanation = (name: Explains): string => {
  const { what, unit, made, error } = explainWords[name]
  return `${what} ${unit} ${made} ${error}`
}
