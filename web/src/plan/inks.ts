/** The inks of the plan: those of the shade in use, the public-works colour code, the steps of utilisation. */

export interface PlanInks {
  ink: string;
  soft: string;
  line: string;
  paper: string;
  accent: string;
  stop: string;
  caution: string;
  note: string;
}

/** An ink as six hex digits, so that an opacity may follow: a built page may shorten `#000000` to `#000`. */
export function sixDigits(ink: string): string {
  const short = /^#([\da-f])([\da-f])([\da-f])$/i.exec(ink);
  return short ? `#${short[1]}${short[1]}${short[2]}${short[2]}${short[3]}${short[3]}` : ink;
}

/** Steps of utilisation as the plan marks them: the share up to which each goes, and the size of its ring. [pixels] */
export const USE_STEPS = [
  { upTo: 0.5, ring_px: 5, isFilled: false },
  { upTo: 0.8, ring_px: 8, isFilled: false },
  { upTo: 1, ring_px: 11, isFilled: false },
  { upTo: Number.POSITIVE_INFINITY, ring_px: 14, isFilled: true },
] as const;

/** Which step a utilisation falls in; -1 where it is not known. */
export function useStep(utilisation: number | null | undefined): number {
  if (typeof utilisation !== "number" || Number.isNaN(utilisation)) return -1;
  return USE_STEPS.findIndex((step) => utilisation <= step.upTo);
}

/** The public-works colour code, dark enough to see on white and, lighter, on black; and on white for words. */
export const CODE: Record<string, readonly [light: string, dark: string, words: string]> = {
  red: ["#d1001c", "#ff6f7d", "#c0001a"],
  yellow: ["#a88600", "#ffe14d", "#735c00"],
  orange: ["#e06000", "#ffa04d", "#a84700"],
  blue: ["#0062c4", "#6fb6ff", "#0059b3"],
  green: ["#0b7a2f", "#5fd68a", "#0a6e2a"],
  purple: ["#7a2aa8", "#c99bf0", "#7a2aa8"],
  white: ["#7d868d", "#ffffff", "#5a6269"],
  pink: ["#d6358a", "#ff8fc4", "#b3236f"],
};
