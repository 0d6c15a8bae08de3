import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defaultClientConditions, defineConfig } from 'vite';

/** Where a running server is found while the board is developed with `vite`. */
const SERVER = 'http://127.0.0.1:4170';

export default defineConfig({
  plugins: [svelte()],
  // Workspace packages are read from their sources, so that the board needs no build but its own.
  resolve: { conditions: ['source', ...defaultClientConditions] },
  build: { target: 'es2022', outDir: 'dist', emptyOutDir: true },
  server: {
    proxy: {
      '/api': SERVER,
      '/socket.io': { target: SERVER, ws: true },
    },
  },
});
