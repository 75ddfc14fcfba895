/** What the launcher needs of this folder, bundled into one file for plain Node. */
export { type LoopbackServer, type ServeOptions, startServer } from './server.ts'
