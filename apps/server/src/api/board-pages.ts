import { existsSync } from 'node:fs';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { NestExpressApplication } from '@nestjs/platform-express';

/** Where the board's build lies, seen from the sources and from the built server alike. */
export const BOARD_FOLDER = fileURLToPath(new URL('../../../board/dist', import.meta.url));

/** Serves the built board; until it is built, a page that says how to. */
export function serveBoard(app: NestExpressApplication, folder: string): void {
  const page = join(folder, 'index.html');
  app.use((request: IncomingMessage, response: ServerResponse, next: () => void) => {
    protect(response);
    if (request.url !== '/' || existsSync(page)) {
      next();
      return;
    }
    response.writeHead(503, { 'Content-Type': 'text/html; charset=utf-8' });
    response.end(NOT_BUILT);
  });
  app.useStaticAssets(folder, {
    setHeaders: (response, path) => {
      // Names of assets change with their content; the page that names them must be asked for anew.
      const lasting = path.startsWith(join(folder, 'assets'));
      response.setHeader(
        'Cache-Control',
        lasting ? 'public, max-age=31536000, immutable' : 'no-cache',
      );
    },
  });
}

/** Keeps other sites from framing the board, and browsers from guessing what a file is. */
function protect(response: ServerResponse): void {
  response.setHeader('X-Content-Type-Options', 'nosniff');
  response.setHeader('Content-Security-Policy', "frame-ancestors 'none'");
  response.setHeader('Referrer-Policy', 'no-referrer');
}

const NOT_BUILT = `<!doctype html>
<html lang="en">
  <head><meta charset="utf-8" /><title>Blockbell</title></head>
  <body>
    <h1>The board is not built yet</h1>
    <p>The server runs, but the page it should show is missing. Run <code>npm run build</code>, then load this page again.</p>
    <p>The <a href="/api/docs">description of the API</a> works already.</p>
  </body>
</html>
`;
