import 'reflect-metadata';
import { readSettings } from './config/settings.js';
import { createServer } from './create-server.js';
import { listenNear } from './listen.js';

/** Under npm one Ctrl-C arrives twice, from the terminal and from npm, within these ms at most. */
const ONE_KEYSTROKE = 500;

/**
 * Starts the server and says where its page is. SIGINT and SIGTERM stop the trains, write the journal to its end and
 * leave with 0; a second signal leaves at once. `Settings` lists what the environment sets.
 */
async function main(): Promise<void> {
  const settings = readSettings(process.env);
  const app = await createServer(settings);
  let leavingSince: number | null = null;
  for (const signal of ['SIGINT', 'SIGTERM'] as const)
    process.on(signal, () => {
      if (leavingSince !== null) {
        if (performance.now() - leavingSince > ONE_KEYSTROKE) process.exit(130);
        return;
      }
      leavingSince = performance.now();
      app.close().then(
        () => process.exit(0),
        (error: unknown) => fail(error),
      );
    });
  const address = await listenNear(app, settings.port);
  console.log(`Blockbell is ready: ${address}`);
}

function fail(error: unknown): never {
  console.error(`blockbell: ${error instanceof Error ? error.message : String(error)}`);
  process.exit(1);
}

main().catch(fail);
