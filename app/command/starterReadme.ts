/**
 * What stands beside a new bay: JSON takes no comments, so every field is explained here.
 * @param bayFile name of the bay file, for the commands
 */
export const starterReadme = (bayFile: string): string => `# ${bayFile}

A measured bay for gapwright. The numbers in it are made up; put your own in their place and check again:

    npx gapwright check ${bayFile}

All lengths in the file are millimetres, all angles degrees, whatever \`units\` says.

## Frame

- \`frame.origin\`: where the origin is on the car, in words. Someone else must be able to find it again.
- X points rearward, Y to the right, Z up. A point is \`[x, y, z]\`.
- \`units\`: \`"mm"\` or \`"inch"\`; how lengths are shown to people. It changes nothing in the file.

## Keep-outs

Volumes that must stay clear. Each has

- \`id\`: short name for commands and tables; lower-case letters, digits, hyphens; used once.
- \`name\`: what people call it.
- \`role\`: why it must stay clear: \`safety\`, \`lamp\`, \`cooling\`, \`moving\`, \`hot\`, \`body\`, \`service\`.
- \`clearance\`: gap that is asked for. Left out, the role's default is taken, and the answer says so.
- \`uncertainty\`: how far off the measured surface may be (95 %, k = 2). Left out, 3 mm.
- \`mirror: true\`: the same again on the other side of the car.
- \`enabled: false\`: left out for a look; nothing can then be proved to clear.
- \`fitting\`: \`"stays"\` or \`"comes-off"\` while the part is offered up. Safety parts and lamps always stay.
- \`note\`: anything worth keeping.
- \`photo\`: where a photo of it is: the name of a file beside the bay, or words.
- \`shape\`, one of
  - \`{"kind": "box", "at": centre, "size": [x, y, z], "turn": [rx, ry, rz]}\` (\`turn\` may be left out)
  - \`{"kind": "cylinder", "from": point, "to": point, "radius": r}\`
  - \`{"kind": "hull", "points": [point, …]}\`: the tightest skin around at least four points
  - \`{"kind": "halfSpace", "point": point, "normal": [x, y, z]}\`: all that lies behind a plane; the normal points to the free side
  - \`{"kind": "sweep", "section": [[u, v], …], "path": [point, …], "up": [x, y, z]}\`: a profile along a line
  - \`{"kind": "tube", "path": [point, …], "radius": r, "bendRadius": R}\`: a round pipe or hose
  - \`{"kind": "mesh", "file": "scan.stl", "unit": "mm"}\`: STL, OBJ, PLY or GLB (also packed, .stl.gz) in this folder.
    Ask \`npx gapwright mesh scan.stl\` which unit it can be in.

## Candidates

Coolers to try. The first is the one that \`check\` takes unless \`--candidate\` names another.

- \`at\`: centre of the core; \`turn\`: degrees about X, then Y, then Z.
- \`core\`: \`depth\` along X, \`width\` along Y (tank to tank), \`height\` along Z, \`tolerance\`: what manufacture may add.
- \`tanks.left\`, \`tanks.right\`: \`length\` outward from the core; \`front\`, \`rear\`, \`below\`, \`above\`: how far the tank's
  foot stands over the core's side (negative: short of it); \`taper\`: how much of the foot is left at the far end.
- \`limits\`: what the core may become when \`gapwright largest\` looks for a larger one: \`depth\`, \`width\` and \`height\`
  with \`min\`, \`max\` or \`stock\` (the sizes that can be had); for the height also \`pitch\` and \`offset\` (rows and what
  comes beside them); \`centre\`: the region that the core's centre has to stay in; \`tilt\`: degrees about Y from \`min\`
  to \`max\`; \`symmetric\`: true keeps it on the car's middle.

## Also possible

\`openings\` (air inlets), \`ports\` (where pipes end on the car), \`pipes\` and tank \`ports\` of a candidate, \`benders\` (tooling).

## Cautions

Gapwright is a drawing aid. Crash structure, lamps and their positions, brakes, steering, fuel, hot and pressurised parts
are judged by licensed practice and local codes. Nothing here is a reason to cut or remove a safety structure.
`
