import { expose } from 'comlink'
import { SearchDeskHere } from './searchDeskHere.ts'

/** The search desk behind a message port. */
expose(new SearchDeskHere())
