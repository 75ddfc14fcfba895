import { expect, it } from 'vitest'
import { bad, good } from '../../../core/fault.ts'
import type { Bridge } from '../../bridge.ts'
import { desktopHost } from './desktopHost.ts'

const opened = { token: 't', name: 'one.bay.json', text: '{}', writable: true }

const bridge: Bridge = {
  first: async () => good(opened),
  open: async () => good(null),
  save: async () => bad({ code: 'file-unwritable', file: 'one.bay.json' }),
  beside: async (_token, file) => bad({ code: 'mesh-missing', file }),
  addBeside: async (_token, file) => good({ file, onDisk: true }),
  saveFile: async (_bytes, name) => good(name),
  chooseFolder: async (name) => good({ token: 'f', name, taken: true }),
  saveFolder: async (token) => bad({ code: 'call-refused', got: token }),
  print: async (_pdf, file) => bad({ code: 'file-unreadable', file }),
  blank: async (name, text) => good({ ...opened, name, text }),
  standing: async () => good('same'),
  again: async () => bad({ code: 'file-missing', file: 'one.bay.json' }),
  recent: async () => good([{ id: 'r', name: 'one.bay.json', where: '~' }]),
  openRecent: async () => good(opened),
  forgetRecent: async () => good(null),
  keepWork: async () => bad({ code: 'journal-unwritable' }),
  dropWork: async () => good(null),
  foundWork: async () => good([]),
  takeWork: async () => bad({ code: 'work-gone' }),
  dragOut: async () => good(null),
  dropped: async (file) => good({ ...opened, name: file.name }),
  onCommand: () => () => {},
  onTouched: () => () => {},
}

it('hands on answers, and throws faults with all that they hold', async () => {
  const host = desktopHost(bridge)
  expect(await host.first()).toEqual(opened)
  expect(await host.open()).toBe(null)
  await expect(host.save('{}', 'one.bay.json', 't', 'in-place')).rejects.toMatchObject({
    name: 'FaultError',
    faults: [{ code: 'file-unwritable', file: 'one.bay.json' }],
  })
  expect(await host.recent()).toHaveLength(1)
  await expect(host.journal.keep('id', 't', 'one.bay.json', '{}')).rejects.toMatchObject({
    faults: [{ code: 'journal-unwritable' }],
  })
  expect(await host.chooseFolder?.('set')).toEqual({ token: 'f', name: 'set', taken: true })
  await expect(host.saveFolder?.('f', [])).rejects.toMatchObject({ faults: [{ got: 'f' }] })
  await expect(host.print(new Uint8Array(), 'a.pdf')).rejects.toMatchObject({ faults: [{ file: 'a.pdf' }] })
  await expect(host.beside('t', 'shell.stl')).rejects.toMatchObject({ faults: [{ file: 'shell.stl' }] })
})

it('hands the bay among dropped files to the shell, which finds its meshes itself', async () => {
  const host = desktopHost(bridge)
  const files = [new File([''], 'shell.stl'), new File(['{}'], 'two.bay.json')]
  expect(await host.dropped?.(files)).toMatchObject({ name: 'two.bay.json' })
  expect(await host.dropped?.([new File([''], 'shell.stl')])).toBe(null)
})
