import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

export default defineConfig({
  root: here('src/workbench'),
  base: '/',
  plugins: [react()],
  build: {
    outDir: here('dist/workbench'),
    emptyOutDir: true,
    // Everything comes from the server itself, so that its content security policy stays strict.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});
