import { expect, test } from "vitest";
import { showValue } from "../src/units/show_value.ts";

const word = (text: string, value: number) => (text !== "piece" ? text : value === 1 ? "pieza" : "piezas");

test.each([
  [5.323384641451811, "rad", "305°", "305°"],
  [0.3490658503988659, "rad", "20°", "20°"],
  [0.03490658503988659, "rad", "2°", "2°"],
  [0.00349, "rad", "0.2°", "0.2°"],
  [169.35, "m", "555.6 ft", "169.35 m"],
  [1.651, "m", "65 in", "1,651 mm"],
  [2.4384, "m", "8' 0\"", "2.44 m"],
  [3.6576 + 0.0635, "m", "12' 2 1/2\"", "3.72 m"],
  [0.0012, "m", "0.047 in", "1.2 mm"],
  [0, "m", "0 in", "0 mm"],
  [2697.7558772850102, "N", "606 lbf", "2.70 kN"],
  [1228.2517580749216, "N m", "905.9 lbf ft", "1.228 kN m"],
  [95760.51796067168, "Pa", "2,000 psf", "95.76 kPa"],
  [8618446.616460452, "Pa", "1,250 psi", "8.618 MPa"],
  [47126.23915387385, "Pa/m", "300 psf/ft", "47.13 kPa/m"],
  [20, "C", "68 F", "20 C"],
  [15.2, "K", "27.4 °F", "15.2 °C"],
  [0.08015666416740806, "m3", "2.831 ft³", "0.08016 m³"],
  [0.9233, "%", "92.3 %", "92.3 %"],
  [0.933979256859156, "1", "0.934", "0.934"],
  [28, "1", "28", "28"],
  [12345, "1", "12,345", "12,345"],
  [2.7535482016318495e-12, "1", "0", "0"],
  [49, "piece", "49 piezas", "49 piezas"],
  [1, "piece", "1 pieza", "1 pieza"],
  [46.0871, "bag", "46.09 bag", "46.09 bag"],
  [10, "piece/h", "10 piezas/h", "10 piezas/h"],
  [3.5, "h", "3.5 h", "3.5 h"],
  [359.6, "h", "15.0 d (360 h)", "15.0 d (360 h)"],
  [9239.24, "USD", "USD 9,239.24", "USD 9,239.24"],
  ["2026-04-13 14:30", "", "2026-04-13 14:30", "2026-04-13 14:30"],
  [null, "m", "–", "–"],
] as const)("%s %s is %s, metric %s", (value, unit, us, metric) => {
  expect(showValue(value, unit, "us", word)).toBe(us);
  expect(showValue(value, unit, "metric", word)).toBe(metric);
});

test("a list is told with what is alike told once", () => {
  expect(showValue([0.3048, 0.4572], "m", "us")).toBe("12 in, 18 in");
  expect(showValue([201.168, 201.168, 201.168, 201.168, 3.048], "m", "us")).toBe("4 × 660.0 ft, 10' 0\"");
  expect(showValue([], "m", "us")).toBe("–");
  expect(showValue([1, null], "1", "metric")).toBe("1, –");
});
