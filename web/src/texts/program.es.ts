/** What the program says on first sight, in Spanish: read only where the page is in that language. */

import findings from "./findings.es.json";
import phrases from "./program.es.json";

export default { fields: {}, findings, phrases };
