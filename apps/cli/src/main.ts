import { runCli } from './run-cli.js';
import { processTerminal } from './terminal.js';

// Whoever reads has read enough: `blockbell … | head`.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit();
});

process.exitCode = await runCli(process.argv.slice(2), processTerminal());
