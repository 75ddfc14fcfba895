/** What the launcher needs of this folder and the one below, bundled into one file for plain Node. */
export { stateFolder } from '../files/stateFolder.ts'
export { type LoopbackServer, type ServeOptions, startServer } from './server.ts'
