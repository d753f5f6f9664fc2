/** What there is to look at in an output: the pages of a paper, or a drawing, which has a narrow form of its own. */

import { api, type OutputInfo } from "../api/client.ts";
import { drawingSizes, pictureWidth, type Size } from "./look_sizes.ts";

const PX_PER_MM = 96 / 25.4;

/** A page, or a whole drawing. */
export interface LookPage {
  /** As large as it is on paper. [px] */
  size: Size;
  /** The same of the form that a drawing takes where it has little width; null where it has none. [px] */
  narrow: Size | null;
  /** It is sharp at any size, and takes its form by the size that it is laid out in. */
  isDrawing: boolean;
  /** Address of its picture for the width in which it is shown. */
  address: (shownPx: number) => string;
}

/** Whether an output can be looked at. */
export function canLook(output: OutputInfo): boolean {
  return output.media_type.startsWith("image/svg") || output.media_type === "application/pdf";
}

/** Fetch what there is to look at; a drawing is held by its own address, to be let go of with `letGo`. */
export async function lookPages(job: string, output: OutputInfo, revision: number): Promise<LookPage[]> {
  if (output.media_type === "application/pdf") return paperPages(job, output.name, revision);
  const drawing = await api.drawing(job, output.name, revision);
  const sizes = drawingSizes(drawing);
  const held = URL.createObjectURL(new Blob([drawing], { type: "image/svg+xml" }));
  return [{ size: sizes.sheet, narrow: sizes.narrow, isDrawing: true, address: () => held }];
}

async function paperPages(job: string, name: string, revision: number): Promise<LookPage[]> {
  const { pages, widest_px } = await api.pages(job, name, revision);
  return pages.map(({ width_mm, height_mm, address }) => ({
    size: { width: width_mm * PX_PER_MM, height: height_mm * PX_PER_MM },
    narrow: null,
    isDrawing: false,
    address: (shownPx) => `${address}&width=${pictureWidth(shownPx, devicePixelRatio, widest_px)}`,
  }));
}

/** Let go of what was held to be looked at. */
export function letGo(pages: readonly LookPage[]): void {
  for (const page of pages) if (page.isDrawing) URL.revokeObjectURL(page.address(0));
}
