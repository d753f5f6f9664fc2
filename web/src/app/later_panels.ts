/** Panels that no first sight needs: they come in a part of the script of their own. */

import "../panels/history.ts";
import "../panels/job_panel.ts";
import "../panels/price_panel.ts";
import "../panels/programme_panel.ts";
import "../panels/take_away.ts";
import "../panels/tension_chart.ts";
import "../panels/why_panel.ts";
