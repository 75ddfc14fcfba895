import { join } from 'node:path'

/** The writer of GLB can read and write files itself where there are any; in a page it is never asked to. */
const noFiles = () => ({
  name: 'no-files-in-a-page',
  enforce: 'pre',
  resolveId: (id, importer) =>
    /^node:(fs|path)$/.test(id) && importer?.includes('@gltf-transform') ? '\0no-files' : undefined,
  load: (id) => (id === '\0no-files' ? 'export default {}' : undefined),
})

/**
 * The page: `app/window/index.html` and everything it needs, workers included. Addresses are relative, since the page
 * is served from `app://` in the desktop shell and from a loopback server in the browser.
 * @param {string} root project folder
 * @param {string} outDir where the page goes
 * @returns {import('vite').InlineConfig}
 */
export const windowConfig = (root, outDir) => ({
  configFile: false,
  root: join(root, 'app', 'window'),
  base: './',
  publicDir: false,
  cacheDir: join(root, '.cache', 'vite-window'),
  logLevel: 'warn',
  // The placeholder is filled afresh for every response; React Aria's own style element takes it from the meta tag.
  html: { cspNonce: '__CSP_NONCE__' },
  plugins: [noFiles()],
  worker: { format: 'es', plugins: () => [noFiles()] },
  build: {
    outDir,
    emptyOutDir: true,
    target: 'chrome128',
    sourcemap: false,
    // One page of one program, loaded from the same machine: the warning about large chunks says nothing here.
    chunkSizeWarningLimit: 4000,
    // Inlined assets would be data: addresses, which the content policy allows for pictures only.
    assetsInlineLimit: 0,
    // Notices of everything that is built in, as their licences ask.
    license: { fileName: 'licences.md' },
    modulePreload: { polyfill: false },
    // How long plugins take says nothing to who starts the program.
    rolldownOptions: { checks: { pluginTimings: false } },
  },
})
