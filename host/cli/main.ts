#!/usr/bin/env node
const { run } = await import('./run.js');

process.exitCode = await run(process.argv.slice(2));

export {};
