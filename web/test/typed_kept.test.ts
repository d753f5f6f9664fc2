import { expect, test } from "vitest";
import { acceptTyped, isTypedIn, keepTyped, typedOver } from "../src/panels/typed_kept.ts";

test("what was typed stands for its own thing, form and field alone", () => {
  keepTyped("P2", "set", "depth", "30 in", "");
  expect(typedOver("P2", "set", "depth", "")).toBe("30 in");
  expect(typedOver("P2", "set", "height", "")).toBe("");
  expect(typedOver("P2", "rock", "depth", "")).toBe("");
  expect(typedOver("P3", "set", "depth", "")).toBe("");
});

test("a form with something typed is open until that is accepted", () => {
  keepTyped("P4", "rock", "depth", "2 ft", "");
  expect(isTypedIn("P4", "rock")).toBe(true);
  expect(isTypedIn("P4", "set")).toBe(false);
  acceptTyped("P4", "rock", { depth: "2 ft" });
  expect(isTypedIn("P4", "rock")).toBe(false);
  expect(typedOver("P4", "rock", "depth", "")).toBe("");
});

test("a value that another revision sets takes the place of what was typed over the one before", () => {
  keepTyped("corner", "Move", "x", "12 ft", "10 ft");
  expect(typedOver("corner", "Move", "x", "11 ft")).toBe("11 ft");
  expect(typedOver("corner", "Move", "x", "10 ft")).toBe("10 ft");
  expect(isTypedIn("corner", "Move")).toBe(false);
});

test("a field that was emptied stays empty", () => {
  keepTyped("P5", "set", "at", "", "48 ft");
  expect(typedOver("P5", "set", "at", "48 ft")).toBe("");
});

test("what is typed while the design of an accepted edit is on its way outlives its coming", () => {
  keepTyped("corner 1", "Move", "x", "212 ft", null);
  expect(typedOver("corner 1", "Move", "x", "210 ft", true)).toBe("212 ft");
  expect(typedOver("corner 1", "Move", "x", "211 ft")).toBe("212 ft");
  expect(typedOver("corner 1", "Move", "x", "211 ft")).toBe("212 ft");
  expect(typedOver("corner 1", "Move", "x", "190 ft")).toBe("190 ft"); // set by a later revision
});

test("what was typed before the answer came that its field was accepted is typed over what is to come", () => {
  keepTyped("corner 2", "Move", "x", "211 ft", "210 ft");
  keepTyped("corner 2", "Move", "y", "12 ft ", "10 ft");
  keepTyped("corner 2", "Move", "x", "212 ft", "210 ft"); // after 211 ft was sent
  acceptTyped("corner 2", "Move", { x: "211 ft", y: "12 ft" });
  expect(typedOver("corner 2", "Move", "x", "210 ft", true)).toBe("212 ft");
  expect(typedOver("corner 2", "Move", "x", "211 ft")).toBe("212 ft");
  expect(isTypedIn("corner 2", "Move")).toBe(true);
});

test("what was accepted stands till its design has come, so that the old value does not flash up", () => {
  keepTyped("corner 3", "Move", "x", "211 ft", "210 ft");
  keepTyped("corner 3", "Move", "by", "1 ft", "");
  acceptTyped("corner 3", "Move", { x: "211 ft", by: "1 ft" });
  expect(isTypedIn("corner 3", "Move")).toBe(false);
  expect(typedOver("corner 3", "Move", "by", "")).toBe(""); // pressed again it would move by as much again
  expect(typedOver("corner 3", "Move", "x", "210 ft")).toBe("211 ft"); // not yet told that it is behind
  expect(typedOver("corner 3", "Move", "x", "210 ft", true)).toBe("211 ft");
  expect(typedOver("corner 3", "Move", "x", "211.0 ft")).toBe("211.0 ft");
  expect(typedOver("corner 3", "Move", "x", "190 ft")).toBe("190 ft");
});

test("it stays too where its form is drawn once more before that knows of the accepted edit", () => {
  keepTyped("corner 4", "Move", "x", "212 ft", "210 ft"); // after 211 ft was sent
  acceptTyped("corner 4", "Move", { x: "211 ft" });
  expect(typedOver("corner 4", "Move", "x", "210 ft")).toBe("212 ft");
  expect(typedOver("corner 4", "Move", "x", "210 ft", true)).toBe("212 ft");
  expect(typedOver("corner 4", "Move", "x", "211 ft")).toBe("212 ft");
  expect(typedOver("corner 4", "Move", "x", "190 ft")).toBe("190 ft"); // set by a later revision
});
