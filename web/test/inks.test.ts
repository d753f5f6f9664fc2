/** Names on the plan can be read: WCAG 2.2 asks for 4.5 to 1 of small words, and for 3 to 1 of lines. */

import { expect, test } from "vitest";
import { CODE } from "../src/plan/inks.ts";

/** Contrast of two inks as WCAG 2.2 defines it. */
function contrast(a: string, b: string): number {
  const [one, other] = [a, b].map((ink) => {
    const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
      const share = Number.parseInt(ink.slice(at, at + 2), 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  }) as [number, number];
  return (Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05);
}

test.each(Object.entries(CODE))(
  "a service in %s is seen and its name is read, light and dark",
  (_, [light, dark, words]) => {
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 6);
    expect(contrast(light, "#ffffff")).toBeGreaterThan(3);
    for (const ground of ["#ffffff", "#e4e4e4"]) expect(contrast(words, ground)).toBeGreaterThan(4.5); // shaded terrain
    expect(contrast(dark, "#14181b")).toBeGreaterThan(4.5);
  },
);
