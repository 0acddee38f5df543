// Every golden message of the contract, read and written as this client does.
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";

import { type DescMessage, type Message, fromBinary, fromJson, toBinary, toJson } from "@bufbuild/protobuf";
import { type ReflectMessage, reflect } from "@bufbuild/protobuf/reflect";

import { FindingSchema, Urgency } from "../gen/gaugebook/v1/assessment_pb.js";
import { contract, testdata } from "./contract.js";

const folder = new URL("golden/", testdata);
const suffix = ".binpb";
const names = readdirSync(folder).map((file) => {
  assert.ok(file.endsWith(suffix), file);
  return file.slice(0, -suffix.length);
});

// A name is that of the message, then that of a field of a oneof that is set.
function schemaOf(name: string): DescMessage {
  const schema = contract.getMessage("gaugebook.v1." + name.split(".")[0]);
  assert.ok(schema, `${name} is not in the contract`);
  return schema;
}

// The golden messages as JSON, by name.
const asJson = new Map<string, unknown>();
for (const line of readFileSync(new URL("golden.jsonl", testdata), "utf8").trimEnd().split("\n")) {
  const { name, message } = JSON.parse(line);
  asJson.set(name, message);
}

test("every message of the contract has golden bytes, and each its JSON", () => {
  const messages = [...contract].filter((desc) => desc.kind === "message").map((desc) => desc.name);
  assert.ok(messages.length > 100, `${messages.length} messages`);
  const whole = names.filter((name) => !name.includes("."));
  assert.deepEqual(whole.sort(), messages.sort());
  assert.deepEqual([...asJson.keys()].sort(), [...names].sort());
});

for (const name of names) {
  test(name, () => {
    const schema = schemaOf(name);
    const bytes = new Uint8Array(readFileSync(new URL(name + suffix, folder)));
    const message = fromBinary(schema, bytes);
    assert.deepEqual(toBinary(schema, message), bytes, "written anew, other bytes");
    noUnknown(reflect(schema, message));

    const json = toJson(schema, message);
    assert.deepEqual(json, asJson.get(name));
    assert.deepEqual(toBinary(schema, fromJson(schema, json)), bytes, "by way of JSON, other bytes");

    const arm = name.split(".")[1];
    if (arm !== undefined) {
      const field = schema.fields.find((field) => field.name === arm);
      assert.ok(field?.oneof, `${arm} is in no oneof`);
      const set = (message as Message & Record<string, { case?: string }>)[field.oneof.localName];
      assert.equal(set?.case, field.localName);
    }
  });
}

test("what a newer server adds is read, and kept when written anew", () => {
  const known = readFileSync(new URL("Finding.binpb", folder));
  const later = Uint8Array.from([
    ...known,
    ...[0x18, 99], // urgency, field 3: a value that this client has no name for
    ...[0xc2, 0x3e, 1, 120], // field 1000: "x"
  ]);
  const finding = fromBinary(FindingSchema, later);
  assert.equal(finding.urgency, 99);
  assert.equal(Urgency[finding.urgency], undefined);
  assert.deepEqual(finding.$unknown?.map((field) => field.no), [1000]);
  assert.deepEqual(fromBinary(FindingSchema, toBinary(FindingSchema, finding)), finding);
});

function noUnknown(message: ReflectMessage): void {
  assert.equal(message.getUnknown()?.length ?? 0, 0, message.desc.typeName);
  for (const field of message.fields) {
    if (field.message === undefined || !message.isSet(field)) {
      continue;
    }
    if (field.fieldKind === "list") {
      for (const element of message.get(field)) {
        noUnknown(element as ReflectMessage);
      }
    } else if (field.fieldKind === "message") {
      noUnknown(message.get(field));
    }
  }
}
