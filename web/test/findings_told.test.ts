import { describe, expect, it } from "vitest";
import type { FindingRow } from "../src/api/records.ts";
import { FindingsTold } from "../src/state/findings_told.ts";

const finding = (level: FindingRow["level"], code: string, id = ""): FindingRow =>
  ({
    level,
    code,
    where: { kind: "post", id, line: "" },
    message: `${code} ${id}`,
    remedy: "",
    edits: [],
  }) as never;
const codes = (told: FindingsTold) => told.shown.map(({ code, where }) => `${code} ${where.id}`.trim());

describe("findings while an answer comes", () => {
  const stop = finding("stop", "over-capacity", "P1");
  const caution = finding("caution", "gust-assumed");
  const splice = finding("caution", "roll-short");
  const note = finding("note", "footing-enlarged");

  it("lets what only the whole design tells stand until the next whole design is there", () => {
    const told = new FindingsTold();
    told.takeEarly(1, [note, stop]);
    expect(codes(told)).toEqual(["over-capacity P1", "footing-enlarged"]); // worst first
    told.takeAll(1, [stop, splice, note]);
    expect([...told.late]).toEqual(["roll-short"]);
    told.takeEarly(2, [caution, note]);
    expect(codes(told)).toEqual(["gust-assumed", "roll-short", "footing-enlarged"]);
    told.takeAll(2, [caution, note]);
    expect(codes(told)).toEqual(["gust-assumed", "footing-enlarged"]);
    expect(told.late.size).toBe(0);
  });

  it("never keeps what the checks themselves no longer tell", () => {
    const told = new FindingsTold();
    told.takeEarly(1, [stop, caution]);
    told.takeAll(1, [stop, caution, splice]);
    told.takeEarly(2, [caution]);
    expect(codes(told)).toEqual(["gust-assumed", "roll-short"]);
  });

  it("does not tell twice what is told early this time", () => {
    const told = new FindingsTold();
    told.takeEarly(1, [caution]);
    told.takeAll(1, [caution, splice]);
    told.takeEarly(2, [caution, splice]);
    expect(codes(told)).toEqual(["gust-assumed", "roll-short"]);
  });

  it("keeps nothing of a whole design that will not come", () => {
    const told = new FindingsTold();
    told.takeEarly(1, [caution]);
    told.takeAll(1, [caution, splice]);
    told.takeEarly(2, [caution]);
    told.endEarly(2);
    expect(codes(told)).toEqual(["gust-assumed"]);
    const before = new FindingsTold();
    before.takeEarly(1, [caution]);
    before.takeAll(1, [caution, splice]);
    before.endEarly(2); // refused before its checks: the list of the design before stands
    expect(codes(before)).toEqual(["gust-assumed", "roll-short"]);
  });
});
