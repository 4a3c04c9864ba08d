/** `npm run laws`: every seeded law with its full number of runs. SEED=n repeats another seed. */
process.env.LAWS = 'full';
await import('./run.mjs');
