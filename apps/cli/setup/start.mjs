// `npm start`: prepares what is missing, then runs the server in this same process, so that Ctrl-C
// and a signal to npm reach it directly.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { prepare, root } from './prepare.mjs';

prepare();
await import(pathToFileURL(join(root, 'apps', 'server', 'dist', 'main.js')).href);
