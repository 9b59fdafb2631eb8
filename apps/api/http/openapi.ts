import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { DocumentBuilder, type OpenAPIObject, SwaggerModule } from '@nestjs/swagger';

/** The contract, made from the controllers and their DTOs; the committed openapi.json is compared with it. */
export function openApiOf(app: NestFastifyApplication): OpenAPIObject {
  const about = new DocumentBuilder()
    .setTitle('Heapwright')
    .setDescription(
      'Operating records of a community composting programme. Bodies are JSON; refusals are RFC 9457 problem ' +
        'details. The local permit and authority always decide: nothing here says that something is lawful.',
    )
    .setVersion('1')
    .addBearerAuth({ type: 'http', scheme: 'bearer' })
    .build();
  return SwaggerModule.createDocument(app, about);
}

/** `/api/openapi.json` for programs, `/api/docs` for people. */
export function serveDocs(app: NestFastifyApplication, document: OpenAPIObject): void {
  SwaggerModule.setup('api/docs', app, document, { jsonDocumentUrl: 'api/openapi.json' });
}
