// The whole contract as generated, and where its test data lie.
import { readdirSync } from "node:fs";

import { type DescFile, createRegistry } from "@bufbuild/protobuf";

// Compiled, this file is build/test/contract.js.
export const testdata = new URL("../../../../testdata/contract/", import.meta.url);

const generated = new URL("../gen/gaugebook/v1/", import.meta.url);
const files: DescFile[] = [];
for (const name of readdirSync(generated).filter((name) => name.endsWith("_pb.js"))) {
  const module: Record<string, unknown> = await import(new URL(name, generated).href);
  for (const [key, value] of Object.entries(module)) {
    if (key.startsWith("file_")) {
      files.push(value as DescFile);
    }
  }
}

export const contract = createRegistry(...files);
