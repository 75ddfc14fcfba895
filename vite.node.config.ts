import { existsSync } from 'node:fs'
import { defineConfig } from 'vite'

const entries = { cli: 'app/command/cli.ts', main: 'app/main/main.ts', serve: 'app/serve/serve.ts', bench: 'test/bench/run.ts' }

/** Programs that run in Node or in Electron's main process: one ES module each, dependencies bundled. */
export default defineConfig({
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'dist/node',
    emptyOutDir: true,
    minify: false,
    rollupOptions: {
      input: Object.fromEntries(Object.entries(entries).filter(([, file]) => existsSync(file))),
      external: ['electron'],
      output: { format: 'es', entryFileNames: '[name].mjs', chunkFileNames: 'chunks/[name].mjs' },
    },
  },
  ssr: { noExternal: true, external: ['electron'] },
})
