import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** Lays compressed copies beside the files, so that the server compresses nothing while it serves. */
function compressedCopies(): Plugin {
  return {
    name: 'compressed-copies',
    writeBundle: ({ dir = '' }) => {
      for (const name of readdirSync(dir, { recursive: true, encoding: 'utf8' })) {
        if (!/\.(css|html|js|svg)$/.test(name)) continue;
        const bytes = readFileSync(join(dir, name));
        writeFileSync(join(dir, `${name}.br`), brotliCompressSync(bytes));
        writeFileSync(join(dir, `${name}.gz`), gzipSync(bytes, { level: 9 }));
      }
    },
  };
}

export default defineConfig({
  root: here('src/workbench'),
  base: '/',
  plugins: [react(), compressedCopies()],
  build: {
    outDir: here('dist/workbench'),
    emptyOutDir: true,
    // Everything comes from the server itself, so that its content security policy stays strict.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});
