import { defineConfig } from 'vitest/config';
import { LongestFirst } from './order.ts';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    globalSetup: ['tests/built.ts'],
    maxWorkers: 2,
    // What was built is run as it is, by Node itself.
    server: { deps: { external: [/\/dist\/tabwright\.mjs$/] } },
    sequence: { sequencer: LongestFirst },
    // Nothing under test keeps state but caches by input, so files may share a process: modules are read once a worker.
    isolate: false,
  },
});
