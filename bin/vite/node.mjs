import { join } from 'node:path'

/**
 * What runs outside the page, one file each. The sandboxed preload cannot be an ES module, so it alone is CommonJS.
 * `electron` stays outside: only the shell's own binary can provide it.
 * @type {Record<string, { entry: string, file: string, format: 'es' | 'cjs' }>}
 */
export const nodeEntries = {
  cli: { entry: 'app/command/cli.ts', file: 'cli.mjs', format: 'es' },
  serve: { entry: 'app/serve/serve.ts', file: 'serve.mjs', format: 'es' },
  main: { entry: 'app/main/main.ts', file: 'main.mjs', format: 'es' },
  preload: { entry: 'app/preload/preload.ts', file: 'preload.cjs', format: 'cjs' },
  bench: { entry: 'test/bench/run.ts', file: 'bench.mjs', format: 'es' },
}

/**
 * @param {string} root project folder
 * @param {keyof typeof nodeEntries} name
 * @param {string} outDir
 * @returns {import('vite').InlineConfig}
 */
export const nodeConfig = (root, name, outDir) => {
  const { entry, file, format } = nodeEntries[name]
  // The bench compares with libraries as they are installed; everything else is bundled whole.
  const bundled = name !== 'bench'
  // What few commands need (laying out and reading PDF) is half of the program: it lies beside, so that the others start at once.
  const parted = name === 'cli'
  return {
    configFile: false,
    root,
    publicDir: false,
    cacheDir: join(root, '.cache', `vite-${name}`),
    logLevel: 'warn',
    ssr: { noExternal: bundled ? true : undefined, external: ['electron'], target: 'node' },
    build: {
      ssr: join(root, entry),
      outDir,
      emptyOutDir: false,
      target: 'node20',
      minify: false,
      license: bundled ? { fileName: `${name}.licences.md` } : false,
      rolldownOptions: {
        output: { format, entryFileNames: file, chunkFileNames: `${name}-[name].mjs`, codeSplitting: parted },
      },
    },
  }
}
