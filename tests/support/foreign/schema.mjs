// Compiles a JSON Schema in strict mode, then holds each document of standard input to it, one on a line.
import { createRequire } from "module";
import { readFileSync } from "fs";

const [folder, schema] = process.argv.slice(2);
const Ajv = createRequire(`${folder}/`)("ajv/dist/2020.js").default;
const holds = new Ajv({ strict: true, allErrors: true }).compile(JSON.parse(readFileSync(schema, "utf8")));
for (const line of readFileSync(0, "utf8").split("\n").filter(Boolean)) {
  console.log(holds(JSON.parse(line)) ? "valid" : `refused ${holds.errors[0].instancePath}`);
}
