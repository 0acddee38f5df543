// The OpenAPI document as the server gives it, held to the OpenAPI specification
// by a validator that has no part in making it.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { after, before, test } from "node:test";

import { createConfig, lintFromString } from "@redocly/openapi-core";

const program = process.env["GAUGEBOOK"];
assert.ok(program, "GAUGEBOOK is not set to the server's program");
const folder = mkdtempSync(join(tmpdir(), "gaugebook-"));
const accessFile = join(folder, "access.yaml");
writeFileSync(accessFile, "tokens: [{token: token-of-this-test, name: test, role: bench, shops: [test]}]\n");
const server = spawn(program, ["serve", "--access", accessFile, "--grpc", "127.0.0.1:0", "--http", "127.0.0.1:0"], {
  stdio: ["ignore", "pipe", "inherit"],
});

let origin: string;

before(async () => {
  for await (const line of createInterface(server.stdout)) {
    const address = /JSON on (http:\S+)/.exec(line)?.[1];
    if (address !== undefined) {
      origin = address;
      return;
    }
  }
  assert.fail("the server ended before it told its address");
});

after(() => {
  server.kill();
  rmSync(folder, { recursive: true });
});

// A document as far as it is changed here.
interface Document {
  openapi: string;
  paths: Record<string, Record<string, Operation>>;
  components: { schemas: Record<string, { properties: Record<string, unknown> }>; securitySchemes: Record<string, object> };
}
interface Operation {
  operationId: string;
  parameters?: object[];
  responses?: object;
}

async function served(): Promise<Document> {
  const answer = await fetch(origin + "/openapi.json");
  assert.equal(answer.status, 200);
  return (await answer.json()) as Document;
}

// What the specification demands, rule by rule. Rules of taste are left out.
const config = await createConfig({
  rules: Object.fromEntries(
    [
      "struct",
      "no-ambiguous-paths",
      "no-enum-type-mismatch",
      "no-identical-paths",
      "no-required-schema-properties-undefined",
      "no-schema-type-mismatch",
      "no-unresolved-refs",
      "operation-2xx-response",
      "operation-operationId",
      "operation-operationId-unique",
      "operation-parameters-unique",
      "path-declaration-must-exist",
      "path-not-include-query",
      "path-parameters-defined",
      "security-defined",
      "spec-strict-refs",
    ].map((rule) => [rule, "error" as const]),
  ),
});

// What is wrong with a document, each with its rule.
async function problems(document: Document): Promise<string[]> {
  const found = await lintFromString({ source: JSON.stringify(document), absoluteRef: "openapi.json", config });
  return found.map((problem) => `${problem.ruleId}: ${problem.message} ${problem.location[0]?.pointer}`);
}

test("the document served is valid", async () => {
  const document = await served();
  assert.match(document.openapi, /^3\./);
  assert.ok(Object.keys(document.paths).length > 15, "few paths");
  assert.deepEqual(await problems(document), []);
});

const path = "/v1/shops/{shopId}/inspections/{inspectionId}";
const operation = (document: Document): Operation => {
  const found = document.paths[path]?.["get"];
  assert.ok(found, path);
  return found;
};

// Ways to break a document, each with the rule that tells.
const breaks: [what: string, rule: string, change: (document: Document) => void][] = [
  ["an operation without answers", "struct", (document) => delete operation(document).responses],
  [
    "a reference that leads nowhere",
    "no-unresolved-refs",
    (document) => (document.components.schemas["Finding"]!.properties["urgency"] = { $ref: "#/components/schemas/Nothing" }),
  ],
  ["a type that there is not", "struct", (document) => (document.components.schemas["Finding"]!.properties["id"] = { type: "word" })],
  ["a parameter of the path not declared", "path-parameters-defined", (document) => delete operation(document).parameters],
  [
    "a parameter that is not in the path",
    "path-parameters-defined",
    (document) => operation(document).parameters?.push({ name: "other", in: "path", required: true, schema: { type: "string" } }),
  ],
  [
    "one id for two operations",
    "operation-operationId-unique",
    (document) => (document.paths["/v1/server"]!["get"]!.operationId = operation(document).operationId),
  ],
  ["a security scheme of no kind", "struct", (document) => (document.components.securitySchemes["bearer"] = { type: "word" })],
  ["a security scheme that is not there", "security-defined", (document) => delete document.components.securitySchemes["bearer"]],
  ["a path without its slash", "struct", (document) => (document.paths["v1"] = {})],
  ["two paths that are one", "no-identical-paths", (document) => (document.paths[path.replace("inspectionId", "id")] = {})],
];

for (const [what, rule, change] of breaks) {
  test("refused: " + what, async () => {
    const document = await served();
    change(document);
    const found = await problems(document);
    assert.ok(found.some((problem) => problem.startsWith(rule + ": ")), `${found}`);
  });
}
