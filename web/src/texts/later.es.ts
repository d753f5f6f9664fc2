/** What the program says in Spanish in the panels that come later: keys of the job file, reasons, refusals. */

import defaults from "./defaults.es.json";
import fields from "./fields.es.json";
import refusals from "./refusals.es.json";
import reasons from "./why.es.json";

export default { fields, findings: {}, phrases: { ...reasons, ...defaults, ...refusals } };
