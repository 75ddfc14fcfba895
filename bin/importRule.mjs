/**
 * The import rule: modules import only downwards, types count, and `core` stays pure. Works on the syntax trees of the
 * whole project, given as text, so that its own test can plant faults in it.
 */
import { posix } from 'node:path'
import { parseSync } from 'vite'

/** Lower ranks first; a folder may import from lower ranks only, never from its own rank's other folders. */
const coreRanks = [
  ['fault'],
  ['units'],
  ['shape'],
  ['clearance', 'bay'],
  ['verdict'],
  ['largest', 'pipe', 'air'],
  ['seat', 'worth'],
  ['sheet'],
  ['index'],
]
const appRanks = [
  ['host', 'wording'],
  ['bridge'],
  ['files', 'sheet'],
  ['worker', 'serve'],
  ['command', 'main', 'preload', 'window'],
]

/** Libraries that core may use: pure functions of numbers. */
const corePackages = ['clipper2-ts', 'numeric-quantity', 'robust-predicates', 'three-mesh-bvh', 'zod']

/** Of three, the maths and the two containers that the tree library wants; nothing that draws. */
const threeNames = new Set(
  `Box2 Box3 BufferAttribute BufferGeometry Euler Line3 MathUtils Matrix3 Matrix4 Plane Quaternion Ray ShapeUtils
   Sphere Spherical Triangle Vector2 Vector3 Vector4`.split(/\s+/),
)

/** Where a library may be used at all, for those that belong to one place. */
const homes = {
  electron: /^app\/(main|preload)\//,
  react: /^app\/window\//,
  'react-dom': /^app\/window\//,
  'react-aria-components': /^app\/window\//,
  zustand: /^app\/window\//,
  comlink: /^app\/(window|worker)\//,
  three: /^(core|app\/(window\/picture|worker|files))\//,
  commander: /^app\/command\//,
}

/** Of what draws, in a worker of its own, the page knows the protocol and starts the worker. */
const drawing = /^app\/window\/picture\/(?!(protocol|pictureWorker)\.ts$)/

const isTest = (file) => /\.test\.tsx?$/.test(file)

/**
 * @param {ReadonlyMap<string, string>} files text by path from the project's folder, with slashes
 * @param {readonly string[]} dependencies packages that the program may use when installed
 * @returns {{ file: string, line: number, what: string }[]}
 */
export function importFaults(files, dependencies) {
  const faults = []
  const graph = new Map()
  for (const [file, text] of files) {
    const { imports, impure, errors } = readModule(file, text)
    const fault = (at, what) => faults.push({ file, line: lineOf(text, at), what })
    for (const { message } of errors) fault(0, message)
    if (file.startsWith('core/') && !isTest(file)) for (const { at, what } of impure) fault(at, what)
    const edges = []
    for (const entry of imports) {
      const target = entry.from.startsWith('.') ? posix.normalize(posix.join(posix.dirname(file), entry.from)) : null
      const what = target === null ? packageFault(file, entry, dependencies) : folderFault(file, target)
      if (what) fault(entry.at, what)
      if (target !== null && files.has(target)) edges.push({ target, at: entry.at })
      if (target === null) edges.push({ target: entry.from, at: entry.at })
    }
    graph.set(file, edges)
  }
  return [...faults, ...cycleFaults(graph, files), ...pageFaults(graph, files)]
}

/** `core/shape/box.ts` → its area and folder; a file directly in core or app counts as a folder of its own name. */
function placeOf(file) {
  const [area, folder = ''] = file.split('/')
  const ranks = area === 'core' ? coreRanks : area === 'app' ? appRanks : null
  const name = folder.replace(/(\.test)?\.tsx?$/, '')
  return { area, name, rank: ranks === null ? Number.NaN : ranks.findIndex((names) => names.includes(name)), ranks }
}

function folderFault(file, target) {
  const from = placeOf(file)
  const to = placeOf(target)
  if (from.ranks === null) return null
  if (drawing.test(target) && !file.startsWith('app/window/picture/')) return `${target} draws, and not in the page`
  // A test may look at anything its area may; it is no part of what is shipped.
  if (isTest(file)) return from.area === 'core' && to.area === 'app' ? `core may not import ${target}` : null
  if (to.ranks === null) {
    // The version is told from there and nowhere else.
    if (from.area === 'app' && target === 'package.json') return null
    return `${file.split('/')[0]} may not import ${target}: it lies outside core and app`
  }
  if (from.rank < 0) return `${from.area}/${from.name} has no place in the order of folders (bin/importRule.mjs)`
  if (to.rank < 0) return `${to.area}/${to.name} has no place in the order of folders (bin/importRule.mjs)`
  if (from.area === to.area) {
    if (from.name === to.name || to.rank < from.rank) return null
    return `${from.area}/${from.name} may not import ${to.area}/${to.name}: imports go downwards only`
  }
  return from.area === 'core' ? `core may not import ${target}` : null
}

function packageFault(file, { from, names }, dependencies) {
  const { area } = placeOf(file)
  if (area !== 'core' && area !== 'app') return null
  if (from.startsWith('/') || /^[a-z]+:/.test(from)) {
    if (!from.startsWith('node:')) return `${from} is not a module of this project or of a package`
    return area === 'core' && !isTest(file) ? `core may not import ${from}` : null
  }
  const name = from.startsWith('@') ? from.split('/').slice(0, 2).join('/') : from.split('/')[0]
  if (isTest(file)) return null
  if (homes[name] && !homes[name].test(file)) return `${name} may not be imported here`
  if (!dependencies.includes(name)) return `${name} is not among the dependencies of package.json`
  if (area !== 'core') return null
  if (name === 'three') return threeFault(from, names)
  return corePackages.includes(name) ? null : `core may not import ${name}`
}

function threeFault(from, names) {
  if (from !== 'three') return `core may import from 'three' itself only, by names`
  const other = names.filter((name) => !threeNames.has(name))
  return other.length === 0 ? null : `core may import three's maths only, not ${other.join(', ')}`
}

/** Every import in a module however it is written, and what would make it depend on more than its inputs. */
function readModule(file, text) {
  const { program, comments, errors } = parseSync(file, text)
  const imports = []
  const impure = []
  for (const comment of comments)
    if (comment.type === 'Line' && /^\/\s*<reference/.test(comment.value))
      impure.push({ at: comment.start, what: 'a reference comment is an import that no rule sees' })
  const visit = (node) => {
    if (Array.isArray(node)) {
      for (const one of node) visit(one)
      return
    }
    if (node === null || typeof node !== 'object' || typeof node.type !== 'string') return
    const found = importIn(node)
    if (found) imports.push({ ...found, at: node.start })
    const what = impurityIn(node)
    if (what) impure.push({ at: node.start, what })
    for (const [key, value] of Object.entries(node))
      if (key !== 'parent' && value && typeof value === 'object') visit(value)
  }
  visit(program.body)
  return { imports, impure, errors }
}

function importIn(node) {
  switch (node.type) {
    case 'ImportDeclaration':
      return { from: node.source.value, names: node.specifiers.map(importedName) }
    case 'ExportNamedDeclaration':
      return node.source && { from: node.source.value, names: node.specifiers.map(({ local }) => local.name) }
    case 'ExportAllDeclaration':
      return { from: node.source.value, names: ['*'] }
    case 'ImportExpression':
      return { from: node.source.value ?? 'a name that is worked out', names: ['*'] }
    case 'TSImportType':
      return { from: node.source?.value ?? node.argument?.literal?.value, names: [qualifierOf(node)] }
    case 'TSImportEqualsDeclaration':
      return node.moduleReference.type === 'TSExternalModuleReference'
        ? { from: node.moduleReference.expression.value, names: ['*'] }
        : null
    case 'CallExpression':
      return node.callee.name === 'require'
        ? { from: node.arguments[0]?.value ?? 'a name that is worked out', names: ['*'] }
        : null
    case 'NewExpression':
      // A worker's module is named by its address.
      return node.callee.name === 'URL' && /^\.{1,2}\/.*\.tsx?$/.test(node.arguments[0]?.value ?? '')
        ? { from: node.arguments[0].value, names: ['*'] }
        : null
    default:
      return null
  }
}

const importedName = (specifier) =>
  specifier.type === 'ImportSpecifier'
    ? specifier.imported.name
    : specifier.type === 'ImportDefaultSpecifier'
      ? 'default'
      : '*'

const qualifierOf = ({ qualifier }) => (qualifier?.type === 'Identifier' ? qualifier.name : '*')

/** The clock, chance, and the habits of the machine, as far as TypeScript's core library itself offers them. */
function impurityIn(node) {
  if (node.type === 'Identifier' && node.name === 'globalThis') return 'core may not look at globalThis'
  if (node.type === 'NewExpression' && node.callee.name === 'Date') return 'core may not read the clock'
  if (node.type === 'CallExpression' && node.callee.name === 'Date') return 'core may not read the clock'
  if (node.type === 'Identifier' && node.name === 'Intl') return 'core may not depend on the language of the machine'
  if (node.type !== 'MemberExpression') return null
  const name = node.computed ? node.property.value : node.property.name
  if (node.object.name === 'Date') return 'core may not read the clock'
  if (node.object.name === 'Math' && name === 'random') return 'core may not use chance: take a seeded generator'
  if (/^toLocale/.test(name ?? '') || name === 'localeCompare')
    return 'core may not depend on the language of the machine'
  return null
}

/** Modules that import each other in a ring; each ring once. */
function cycleFaults(graph, files) {
  const faults = []
  const done = new Set()
  const path = []
  const visit = (file) => {
    if (done.has(file)) return
    path.push(file)
    for (const { target, at } of graph.get(file) ?? []) {
      if (!graph.has(target)) continue
      const start = path.indexOf(target)
      if (start >= 0)
        faults.push({
          file,
          line: lineOf(files.get(file), at),
          what: `a ring: ${[...path.slice(start), target].join(' → ')}`,
        })
      else visit(target)
    }
    path.pop()
    done.add(file)
  }
  for (const file of graph.keys()) visit(file)
  return faults
}

/** What runs in the page or its worker must reach nothing of Node or the shell, also not by way of another folder. */
function pageFaults(graph, files) {
  const faults = []
  const seen = new Set()
  const visit = (file, way) => {
    if (seen.has(file)) return
    seen.add(file)
    for (const { target, at } of graph.get(file) ?? []) {
      if (target.startsWith('node:') || target === 'electron')
        faults.push({
          file,
          line: lineOf(files.get(file), at),
          what: `${target} does not exist in the page (${[...way, file].join(' → ')})`,
        })
      else if (graph.has(target)) visit(target, [...way, file])
    }
  }
  for (const file of graph.keys()) if (/^app\/(window|worker)\//.test(file) && !isTest(file)) visit(file, [])
  return faults
}

const lineOf = (text, at) => text.slice(0, at).split('\n').length
