/** What the program says in Spanish in the panels that come later: keys of the job file, reasons. */

import fields from "./fields.es.json";
import phrases from "./why.es.json";

export default { fields, findings: {}, phrases };
