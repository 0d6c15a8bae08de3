import 'reflect-metadata';
import { readSettings } from './config/settings.js';
import { createServer } from './create-server.js';
import { listenNear } from './listen.js';
import { Entrance } from './people/entrance.js';

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
  const { here, network } = await listenNear(app, settings.port, settings.open);
  console.log(`Blockbell is ready: ${here}`);
  for (const address of network) console.log(`On the network: ${address}`);
  const code = app.get(Entrance).firstCode;
  if (code !== null)
    console.log(
      `Nobody may run the railway yet. Sign up as the first builder on the page with this code: ${code}`,
    );
}

function fail(error: unknown): never {
  console.error(`blockbell: ${error instanceof Error ? error.message : String(error)}`);
  process.exit(1);
}

main().catch(fail);
