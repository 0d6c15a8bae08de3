import { runCli } from './run-cli.js';
import { processTerminal } from './terminal.js';

process.exitCode = await runCli(process.argv.slice(2), processTerminal());
