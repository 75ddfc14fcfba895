import { spawnSync } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { root } from './build.mjs'
import { importFaults } from './importRule.mjs'
import { sourceTexts } from './lint.mjs'

const dependencies = ['three', 'three-mesh-bvh', 'zod', 'react', 'electron', 'commander', 'pdfmake']

/** A sound little tree, so that each planted fault is the only one. */
const sound: Record<string, string> = {
  'core/fault.ts': 'export type Fault = { code: string }',
  'core/units/length.ts': "import type { Fault } from '../fault.ts'\nexport const mm = (f: Fault) => f.code.length",
  'core/shape/vec.ts': "import { Vector3 } from 'three'\nexport const zero = () => new Vector3()",
  'core/shape/box.ts': "import { zero } from './vec.ts'\nexport const box = zero",
  'core/clearance/gap.ts':
    "import { box } from '../shape/box.ts'\nimport { MeshBVH } from 'three-mesh-bvh'\nexport { box, MeshBVH }",
  'core/bay/read.ts': "import { z } from 'zod'\nexport const read = z",
  'core/verdict/ledger.ts':
    "import { read } from '../bay/read.ts'\nimport { box } from '../clearance/gap.ts'\nexport { box, read }",
  'core/index.ts': "export { box } from './verdict/ledger.ts'",
  'app/host.ts': 'export interface Host { kind: string }',
  'app/files/disk.ts': "import { open } from 'node:fs/promises'\nexport { open }",
  'app/files/stl.ts': "import { box } from '../../core/shape/box.ts'\nexport const stl = box",
  'app/worker/worker.ts': "import { stl } from '../files/stl.ts'\nexport { stl }",
  'app/window/main.tsx': "import { useState } from 'react'\nexport const App = () => <p>{useState(0)[0]}</p>",
  'app/window/easel.ts':
    "import { solidName } from './picture/protocol.ts'\nexport { solidName }\nexport const worker = new Worker(new URL('./picture/pictureWorker.ts', import.meta.url))",
  'app/window/picture/picture.ts': "import { Scene } from 'three'\nexport const scene = new Scene()",
  'app/window/picture/pictureWorker.ts': "import { scene } from './picture.ts'\nexport { scene }",
  'app/window/picture/protocol.ts': "export const solidName = 'lamp'",
  'app/command/cli.ts':
    "import { open } from '../files/disk.ts'\nimport { Command } from 'commander'\nexport { Command, open }",
  'app/main/main.ts': "import { app } from 'electron'\nexport { app }",
  'core/shape/box.test.ts':
    "import { readFileSync } from 'node:fs'\nimport { box } from '../clearance/gap.ts'\nexport { box, readFileSync }",
}

const faultsWith = (planted: Record<string, string>) =>
  importFaults(new Map(Object.entries({ ...sound, ...planted })), dependencies).map(
    ({ file, line, what }) => `${file}:${line} ${what}`,
  )

describe('the import rule', () => {
  it('finds nothing in a sound tree', () => {
    expect(faultsWith({})).toEqual([])
  })

  it.each([
    [
      'a value from above',
      'core/shape/box.ts',
      "import { box } from '../clearance/gap.ts'\nexport const b = box",
      'core/shape may not import core/clearance',
    ],
    [
      'a type from above',
      'core/shape/box.ts',
      "import type { read } from '../bay/read.ts'\nexport type B = typeof read",
      'core/shape may not import core/bay',
    ],
    [
      'a type from above, inside an expression',
      'core/shape/box.ts',
      "export type B = import('../bay/read.ts').read",
      'core/shape may not import core/bay',
    ],
    ['a sibling', 'core/clearance/gap.ts', "export * from '../bay/read.ts'", 'core/clearance may not import core/bay'],
    [
      'a sibling of types only',
      'core/bay/read.ts',
      "export type { box } from '../clearance/gap.ts'",
      'core/bay may not import core/clearance',
    ],
    [
      'an import while running',
      'core/units/length.ts',
      "export const later = () => import('../shape/box.ts')",
      'core/units may not import core/shape',
    ],
    [
      'the front door from within',
      'core/verdict/ledger.ts',
      "export { box } from '../index.ts'",
      'core/verdict may not import core/index',
    ],
    [
      'a way round through dots',
      'core/shape/box.ts',
      "export * from '../shape/../verdict/ledger.ts'",
      'core/shape may not import core/verdict',
    ],
    [
      'the app from core',
      'core/index.ts',
      "export type { Host } from '../app/host.ts'",
      'core may not import app/host.ts',
    ],
    [
      'the app from a test of core',
      'core/shape/box.test.ts',
      "export * from '../../app/host.ts'",
      'core may not import app/host.ts',
    ],
    [
      'test code in the program',
      'core/bay/read.ts',
      "export * from '../../test/kit/random.ts'",
      'it lies outside core and app',
    ],
    [
      'a folder without a place',
      'core/helpers/all.ts',
      "export * from '../fault.ts'",
      'core/helpers has no place in the order',
    ],
    [
      'Node in core',
      'core/bay/read.ts',
      "import { readFileSync } from 'node:fs'\nexport { readFileSync }",
      'core may not import node:fs',
    ],
    [
      'Node in core without its prefix',
      'core/bay/read.ts',
      "import fs from 'fs'\nexport { fs }",
      'fs is not among the dependencies',
    ],
    [
      'an old-fashioned require',
      'core/bay/read.ts',
      "declare const require: (n: string) => unknown\nexport const fs = require('electron')",
      'electron may not be imported here',
    ],
    [
      'import by equals sign',
      'core/bay/read.ts',
      "import fs = require('node:fs')\nexport { fs }",
      'core may not import node:fs',
    ],
    [
      'a name that is worked out',
      'core/bay/read.ts',
      'export const any = (n: string) => import(n)',
      'is not among the dependencies',
    ],
    [
      'React in core',
      'core/bay/read.ts',
      "import type { ReactNode } from 'react'\nexport type R = ReactNode",
      'react may not be imported here',
    ],
    [
      'what draws in the page',
      'app/window/main.tsx',
      "import { scene } from './picture/picture.ts'\nexport { scene }",
      'app/window/picture/picture.ts draws, and not in the page',
    ],
    [
      'the library that draws in the page',
      'app/window/main.tsx',
      "import { Color } from 'three'\nexport { Color }",
      'three may not be imported here',
    ],
    ['a library of the app in core', 'core/bay/read.ts', "export * from 'pdfmake'", 'core may not import pdfmake'],
    [
      'drawing in core',
      'core/shape/vec.ts',
      "import { Scene, Vector3 } from 'three'\nexport { Scene, Vector3 }",
      "three's maths only, not Scene",
    ],
    [
      'all of three in core',
      'core/shape/vec.ts',
      "import * as THREE from 'three'\nexport { THREE }",
      "three's maths only, not *",
    ],
    [
      'a drawing type in core',
      'core/shape/vec.ts',
      "export type M = import('three').Mesh",
      "three's maths only, not Mesh",
    ],
    [
      'the inside of three in core',
      'core/shape/vec.ts',
      "export * from 'three/examples/jsm/loaders/STLLoader.js'",
      "from 'three' itself only",
    ],
    ['an undeclared package', 'app/files/stl.ts', "export * from 'left-pad'", 'left-pad is not among the dependencies'],
    [
      'an address',
      'app/files/stl.ts',
      "export * from 'https://elsewhere.example/x.js'",
      'is not a module of this project',
    ],
    [
      'electron outside the shell',
      'app/files/disk.ts',
      "export * from 'electron'",
      'electron may not be imported here',
    ],
    [
      'the window from the command line',
      'app/command/cli.ts',
      "export * from '../window/main.tsx'",
      'app/command may not import app/window',
    ],
    [
      'the command line from files',
      'app/files/stl.ts',
      "export * from '../command/cli.ts'",
      'app/files may not import app/command',
    ],
    [
      'a worker by its address',
      'app/files/stl.ts',
      "export const w = new Worker(new URL('../worker/worker.ts', import.meta.url))",
      'app/files may not import app/worker',
    ],
    [
      'Node in the page by way of another folder',
      'app/worker/worker.ts',
      "export * from '../files/disk.ts'",
      'node:fs/promises does not exist in the page (app/worker/worker.ts → app/files/disk.ts)',
    ],
    [
      'a ring',
      'core/shape/vec.ts',
      "export * from './box.ts'",
      'a ring: core/shape/vec.ts → core/shape/box.ts → core/shape/vec.ts',
    ],
    ['the clock', 'core/bay/read.ts', 'export const now = () => Date.now()', 'core may not read the clock'],
    ['the clock by new', 'core/bay/read.ts', 'export const now = () => new Date()', 'core may not read the clock'],
    ['chance', 'core/bay/read.ts', 'export const any = () => Math.random()', 'core may not use chance'],
    [
      'the language of the machine',
      'core/bay/read.ts',
      "export const s = (a: string) => a.localeCompare('b')",
      'the language of the machine',
    ],
    [
      'a reference comment',
      'core/bay/read.ts',
      '/// <reference types="node" />\nexport const a = 1',
      'an import that no rule sees',
    ],
    ['text that is not TypeScript', 'core/bay/read.ts', 'export const = 1', ''],
  ])('finds %s', (_, file, text, what) => {
    const faults = faultsWith({ [file]: text })
    expect(faults.filter((fault) => fault.startsWith(`${file}:`) || fault.includes(' → '))).not.toEqual([])
    expect(faults.join('\n')).toContain(what)
  })

  it('holds for the project as it is, and a fault planted in it is found', () => {
    const texts = sourceTexts()
    expect(texts.size).toBeGreaterThan(50)
    const before = importFaults(texts, dependencies).length
    const file = 'core/shape/vec.ts'
    texts.set(file, `${texts.get(file)}\nexport type Planted = import('../verdict/answer.ts').Verdict\n`)
    const found = importFaults(texts, dependencies)
    expect(found.some((fault) => fault.file === file && fault.what.includes('core/verdict'))).toBe(true)
    expect(found.length).toBeGreaterThan(before)
  })
})

describe('the other rules for core fire too', () => {
  /** A tool of the project on a small project with our settings and one file. */
  const tool = (program: string, args: string[], path: string, text: string) => {
    const folder = mkdtempSync(join(tmpdir(), 'gapwright-lint-'))
    try {
      for (const settings of ['biome.json', 'tsconfig.json', 'tsconfig.core.json'])
        cpSync(join(root, settings), join(folder, settings))
      mkdirSync(join(folder, dirname(path)), { recursive: true })
      writeFileSync(join(folder, path), text)
      return spawnSync(process.execPath, [join(root, 'node_modules', program), ...args], {
        cwd: folder,
        encoding: 'utf8',
      })
    } finally {
      rmSync(folder, { recursive: true, force: true })
    }
  }
  const biome = (path: string, text: string) =>
    tool('@biomejs/biome/bin/biome', ['lint', '--colors=off', '.'], path, text)
  const types = (text: string) => tool('typescript/bin/tsc', ['-p', 'tsconfig.core.json'], 'core/planted.ts', text)
  const readsFile = "import { readFileSync } from 'node:fs'\n\nexport const read = readFileSync\n"

  it.each([
    ['printing', "export const say = () => console.log('x')\n", 'noConsole'],
    ["Node's modules", readsFile, 'noNodejsModules'],
    ['untyped values', 'export const any = (x: any) => x\n', 'noExplicitAny'],
  ])('biome refuses %s in core', (_, text, rule) => {
    const answer = biome('core/shape/planted.ts', text)
    expect(answer.stdout + answer.stderr).toContain(rule)
    expect(answer.status).not.toBe(0)
  })

  it('biome lets the same through where it belongs', () => {
    expect(biome('app/files/planted.ts', readsFile).status).toBe(0)
  })

  it.each([
    ['the page', 'export const width = () => window.innerWidth\n', "'window'"],
    ['Node', 'export const name = () => process.env.USER\n', "'process'"],
    ['timers', 'export const later = (f: () => void) => setTimeout(f, 1)\n', "'setTimeout'"],
  ])('the types of core do not know %s', (_, text, name) => {
    const answer = types(text)
    expect(answer.stdout).toContain(`Cannot find name ${name}`)
    expect(answer.status).not.toBe(0)
  })

  it('and know the language itself', () => {
    expect(types('export const last = (list: number[]) => list.toSorted().at(-1)\n').stdout).toBe('')
  })
})
