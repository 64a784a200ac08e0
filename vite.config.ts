import react from '@vitejs/plugin-react';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: 'src/app',
  base: './',
  publicDir: false,
  plugins: [react()],
  build: { outDir: '../../dist', emptyOutDir: true, target: 'es2022', chunkSizeWarningLimit: 1200 },
  worker: { format: 'es' },
  preview: { port: 4173, strictPort: false },
  test: {
    root: import.meta.dirname,
    include: ['tests/**/*.test.ts'],
    environment: 'node',
    testTimeout: 60_000,
    reporters: ['default', './tests/closing-line.ts'],
  },
});
