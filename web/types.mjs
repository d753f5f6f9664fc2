// Types of the page from the program's own schemas: design.json and, where it is there, the web service.
//   node types.mjs            writes src/api/schema.ts
//   node types.mjs --check    fails where it is stale
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import openapiTS, { astToString } from "openapi-typescript";

const at = (path) => new URL(path, import.meta.url);
const read = (path) => JSON.parse(readFileSync(at(path), "utf8"));

const service = existsSync(at("../docs/openapi.json")) ? read("../docs/openapi.json") : { openapi: "3.1.0", info: { title: "fencewright", version: "1" }, paths: {} };
const design = read("../docs/design.schema.json");
service.components = { ...service.components, schemas: { ...service.components?.schemas, DesignFile: design } };
const text = `// Made by web/types.mjs from docs/design.schema.json and docs/openapi.json: do not edit.\n${astToString(await openapiTS(service))}`;
const target = at("src/api/schema.ts");
if (process.argv.includes("--check")) {
  if (!existsSync(target) || readFileSync(target, "utf8") !== text) {
    console.error("web/src/api/schema.ts is stale: run `make docs`");
    process.exit(1);
  }
} else {
  writeFileSync(target, text);
}
