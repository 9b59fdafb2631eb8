import type { TestApi } from './api.js';

export interface Schema {
  $ref?: string;
  allOf?: Schema[];
  oneOf?: Schema[];
  type?: string;
  format?: string;
  enum?: string[];
  pattern?: string;
  nullable?: boolean;
  properties?: Record<string, Schema>;
  required?: string[];
  items?: Schema;
  minItems?: number;
  minimum?: number;
  maximum?: number;
  additionalProperties?: boolean;
}

interface Parameter {
  in: string;
  name: string;
  required?: boolean;
  schema: Schema;
}

interface Operation {
  parameters?: Parameter[];
  requestBody?: { content: Record<string, { schema: Schema }> };
}

interface Document {
  paths: Record<string, Record<string, Operation>>;
  components: { schemas: Record<string, Schema> };
}

/** What the API itself says that it takes: /api/openapi.json. */
export class Contract {
  private constructor(private readonly document: Document) {}

  static async of(api: TestApi): Promise<Contract> {
    return new Contract((await api.call<Document>('GET', '/openapi.json')).body);
  }

  /** Names of the routes, as in "POST /drop-offs/:id/void". */
  routes(): string[] {
    return Object.entries(this.document.paths).flatMap(([path, operations]) =>
      Object.keys(operations).map(
        (method) =>
          `${method.toUpperCase()} ${path.replace(/^\/api/, '').replaceAll(/\{(\w+)\}/g, ':$1') || '/'}`,
      ),
    );
  }

  /** Of the body; null where the route takes none. */
  body(route: string): Schema | null {
    const schema = this.operation(route).requestBody?.content['application/json']?.schema;
    return schema ? this.plain(schema) : null;
  }

  query(route: string): Parameter[] {
    return (this.operation(route).parameters ?? [])
      .filter((parameter) => parameter.in === 'query')
      .map((parameter) => ({ ...parameter, schema: this.plain(parameter.schema) }));
  }

  /** A schema without references: what stands beside a reference holds as well. */
  plain(schema: Schema): Schema {
    const { $ref, allOf, ...own } = schema;
    const parts = [...($ref ? [{ $ref }] : []), ...(allOf ?? [])].map((part) =>
      part.$ref
        ? this.plain(this.document.components.schemas[part.$ref.split('/').at(-1)!]!)
        : this.plain(part),
    );
    return Object.assign({}, ...parts, own) as Schema;
  }

  private operation(route: string): Operation {
    const [method, path] = route.split(' ') as [string, string];
    const found = this.document.paths[`/api${path.replaceAll(/:(\w+)/g, '{$1}')}`]?.[method.toLowerCase()];
    if (!found) throw new Error(`${route} is not in the document`);
    return found;
  }
}
