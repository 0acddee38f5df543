// Takes from package-lock.json where packages are fetched and funded: versions
// and hashes are all that pins them, and the registry is the reader's own.
import { readFileSync, writeFileSync } from "node:fs";

const lock = JSON.parse(readFileSync("package-lock.json", "utf8"));
for (const entry of Object.values(lock.packages)) {
  delete entry.funding;
  delete entry.resolved;
}
writeFileSync("package-lock.json", JSON.stringify(lock, null, 2) + "\n");
