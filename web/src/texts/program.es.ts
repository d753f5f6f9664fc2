/** What the program says, in Spanish: read only where the page is in that language. */

import fields from "./fields.es.json";
import findings from "./findings.es.json";
import phrases from "./program.es.json";
import reasons from "./why.es.json";

export default { fields, findings, phrases: { ...phrases, ...reasons } };
