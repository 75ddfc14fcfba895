import { expose } from 'comlink'
import { Painter } from './painter.ts'

/** The drawing behind a message port: all calls to the graphics are made here. */
expose(new Painter())
