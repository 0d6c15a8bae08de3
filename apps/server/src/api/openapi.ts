import type { INestApplication } from '@nestjs/common';
import { DocumentBuilder, SwaggerModule, type OpenAPIObject } from '@nestjs/swagger';

/** The API's description, made from the controllers. */
export function describeApi(app: INestApplication): OpenAPIObject {
  const head = new DocumentBuilder()
    .setTitle('Blockbell')
    .setDescription(
      'State and commands of the session that runs, and the files it runs on. Every refusal is ' +
        '`{ "ok": false, "refusal": { "code", "text" } }`; a faulty file adds the list `faults`.',
    )
    .setVersion('1')
    .build();
  return SwaggerModule.createDocument(app, head);
}

/** Browsable at /api/docs, as JSON at /api/docs-json. */
export function serveApiDescription(app: INestApplication): void {
  SwaggerModule.setup('api/docs', app, () => describeApi(app));
}
