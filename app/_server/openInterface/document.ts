/** The OpenAPI 3.1 document of the open interface, made from the schemas that the routes themselves use. */
import { z } from "zod";
import { answers, bodies, OPERATIONS, type Operation } from "./operations";
import { ProblemDetails } from "./problem";

export const BASE_PATH = "/api/open/v1";

type Json = Record<string, unknown>;

const refOf = (id: string) => ({ $ref: `#/components/schemas/${id}` });
const idOf = (schema: z.ZodType) => answers.get(schema)?.id ?? bodies.get(schema)?.id ?? "";

/** A registry's schemas as components, each referring to the others. */
function componentsOf(registry: typeof answers, io: "input" | "output"): Json {
  const { schemas } = z.toJSONSchema(registry, { io, uri: (id) => `#/components/schemas/${id}` });
  return Object.fromEntries(Object.entries(schemas).map(([id, schema]) => [id, bare(schema)]));
}

/** Without what names the schema as a document of its own. */
function bare(schema: object): Json {
  const { $schema: _s, $id: _i, ...rest } = schema as Json;
  return rest;
}

function parametersOf({ path, query }: Operation): Json[] {
  const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => ({
    name,
    in: "path",
    required: true,
    schema: { type: "string" },
  }));
  const asked = bare(z.toJSONSchema(query, { io: "input" })) as {
    properties?: Record<string, Json>;
    required?: string[];
  };
  const inQuery = Object.entries(asked.properties ?? {}).map(([name, { description, ...schema }]) => ({
    name,
    in: "query",
    required: asked.required?.includes(name) ?? false,
    description,
    schema,
  }));
  return [...inPath, ...inQuery];
}

const IDEMPOTENCY = {
  name: "Idempotency-Key",
  in: "header",
  required: true,
  description: "Made once per delivery; sent again with it, the same delivery is booked once.",
  schema: { type: "string", minLength: 8, maxLength: 120 },
};

const refusal = (description: string) => ({
  description,
  content: { "application/problem+json": { schema: refOf("ProblemDetails") } },
});

function operationOf(operation: Operation): Json {
  const { id, scope, summary, method, body, path } = operation;
  return {
    operationId: id,
    summary,
    description: `The key needs the scope "${scope}".`,
    parameters: [...parametersOf(operation), ...(method === "post" ? [IDEMPOTENCY] : [])],
    ...(body
      ? { requestBody: { required: true, content: { "application/json": { schema: refOf(idOf(body)) } } } }
      : {}),
    responses: {
      200: {
        description: "As asked.",
        content: { "application/json": { schema: refOf(idOf(operation.answer)) } },
      },
      400: refusal("A parameter, the body or a header is not as described here."),
      401: refusal("No key, or one that is unknown, revoked or run out."),
      403: refusal("The key has not the scope."),
      ...(path.includes("{") ? { 404: refusal("There is no such order.") } : {}),
      409: refusal("There is no plan in force; or the order, or the idempotency key, was used otherwise."),
      ...(method === "post"
        ? {
            413: refusal("The body is too large."),
            422: refusal("The delivery is refused, with every reason."),
          }
        : {}),
      429: refusal("Asked too often; Retry-After says for how many seconds to wait."),
    },
  };
}

export function openApiDocument(): Json {
  const paths: Record<string, Json> = {};
  for (const operation of OPERATIONS)
    paths[operation.path] = { ...paths[operation.path], [operation.method]: operationOf(operation) };
  return {
    openapi: "3.1.0",
    info: {
      title: "Bothends open interface",
      version: "1.0.0",
      description:
        "Lets a purchasing system read what a rollout needs and post what was delivered. Quantities are in the item's unit, money in whole minor units, days are dates of the site.",
    },
    servers: [{ url: BASE_PATH }],
    security: [{ key: [] }],
    paths,
    components: {
      securitySchemes: {
        key: {
          type: "http",
          scheme: "bearer",
          description: "A key that an administrator made under Rules, Interface.",
        },
      },
      schemas: {
        ...componentsOf(answers, "output"),
        ...componentsOf(bodies, "input"),
        ProblemDetails: bare(z.toJSONSchema(ProblemDetails, { io: "output" })),
      },
    },
  };
}
