import { addAgain } from './again.ts'
import { addBends } from './bends.ts'
import { addCheck } from './check.ts'
import type { AddCommand } from './command.ts'
import { addLargest } from './largest.ts'
import { addMesh } from './mesh.ts'
import { addNew } from './new.ts'
import { addPlace } from './place.ts'
import { addRoute } from './route.ts'
import { addSeat } from './seat.ts'
import { addSheets } from './sheets.ts'

/** Every command, in the order of `--help`. A new one is a file and a line here. */
export const commands: readonly AddCommand[] = [
  addCheck,
  addLargest,
  addPlace,
  addBends,
  addRoute,
  addSeat,
  addSheets,
  addAgain,
  addNew,
  addMesh,
]
