import { describe, expect, it } from "vitest";
import {
  drawingSizes,
  firstFit,
  fittedPercent,
  pictureWidth,
  scrollsOn,
  stepped,
} from "../src/panels/look_sizes.ts";

const LETTER = { width: 816, height: 1056 };
const SHEET = { width: 1056, height: 816 };
const PHONE = { width: 374, height: 650 };
const DESK = { width: 1410, height: 770 };

describe("the size of what is looked at", () => {
  it("fits the width, or all of it", () => {
    expect(fittedPercent("width", LETTER, { width: 408, height: 100 })).toBe(50);
    expect(fittedPercent("whole", LETTER, { width: 816, height: 528 })).toBe(50);
    expect(fittedPercent("whole", LETTER, { width: 204, height: 5000 })).toBe(25);
    expect(fittedPercent(150, LETTER, PHONE)).toBe(150);
  });

  it("is whole at first where that can be read, and never larger than is easy to read", () => {
    expect(firstFit(SHEET, DESK)).toBe("whole");
    expect(firstFit(LETTER, DESK)).toBe(125);
    expect(firstFit(LETTER, PHONE)).toBe("width");
    expect(firstFit({ width: 340, height: 18_000 }, PHONE)).toBe("width");
  });

  it("goes by steps from wherever it is, and stops at the ends", () => {
    expect(stepped(44, 1, LETTER)).toBe(50);
    expect(stepped(44, -1, LETTER)).toBe(33);
    expect(stepped(100, 1, LETTER)).toBe(125);
    expect(stepped(100.4, 1, LETTER)).toBe(125);
    expect(stepped(10, -1, LETTER)).toBe(10);
    expect(stepped(400, 1, LETTER)).toBe(600);
    expect(stepped(600, 1, LETTER)).toBe(600);
  });

  it("asks for a picture at least as fine as the screen, up to the widest", () => {
    expect(pictureWidth(374, 1, 3200)).toBe(400);
    expect(pictureWidth(374, 3, 3200)).toBe(1200);
    expect(pictureWidth(1020, 1, 3200)).toBe(1200);
    expect(pictureWidth(5000, 2, 3200)).toBe(3200);
    expect(pictureWidth(1900, 1, 1500)).toBe(1500);
  });

  it("reads the sizes of a drawing's sheet and of its narrow form", () => {
    const sheet =
      '<svg xmlns="http://www.w3.org/2000/svg" class="fw" width="25.4mm" viewBox="0 0 25.4 50.8" role="img">';
    const other = '<g class="wide"><svg x="3" viewBox="0 0 1 1"></svg></g>';
    const phone = '<svg class="phone" width="25.4" height="90" viewBox="0 0 12.7 45.0">';
    expect(drawingSizes(`${sheet}${other}</svg>`)).toEqual({
      sheet: { width: 96, height: 192 },
      narrow: null,
    });
    const { narrow } = drawingSizes(`${sheet}${other}${phone}</svg></svg>`);
    expect(narrow?.width).toBeCloseTo(48, 9);
    expect(narrow?.height).toBeCloseTo(170.07874, 4);
    expect(() => drawingSizes("<html></html>")).toThrow("no drawing");
  });

  it("scrolls while there is more to see, then turns", () => {
    expect(scrollsOn([0, 100, 100], 1)).toBe(false);
    expect(scrollsOn([0, 100, 300], 1)).toBe(true);
    expect(scrollsOn([199.5, 100, 300], 1)).toBe(false);
    expect(scrollsOn([0, 100, 300], -1)).toBe(false);
    expect(scrollsOn([40, 100, 300], -1)).toBe(true);
  });
});
