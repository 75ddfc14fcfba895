import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

/** The window: one page and its worker, all assets beside it, nothing from elsewhere. */
export default defineConfig({
  root: 'app/window',
  base: './',
  plugins: [react()],
  worker: { format: 'es' },
  html: { cspNonce: '__CSP_NONCE__' },
  build: { outDir: '../../dist/window', emptyOutDir: true, target: 'es2023', chunkSizeWarningLimit: 2000, assetsInlineLimit: 0 },
})
