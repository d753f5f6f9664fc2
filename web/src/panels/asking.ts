/** An edit as a panel asks for it, and how it hears whether it was accepted. */

import type { Edit, ErrorText } from "../api/client.ts";

export interface EditAsked {
  edit: Edit;
  /** The refusal's sentence, or nothing where it was accepted; the place in the job file that it is about; and it whole. */
  answered?: (refused: string, field?: readonly (string | number)[], told?: ErrorText) => void;
}
