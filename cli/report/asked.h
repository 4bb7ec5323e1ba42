/* What was asked, in words that more than one command says. */
#ifndef BRV_CLI_REPORT_ASKED_H
#define BRV_CLI_REPORT_ASKED_H

#include "scenario/scenario.h"

enum { BRV_ASKED_SIZE = 200 };

/* "air", "gel", "forced air", "plate", "index 1.4". */
const char *brv_asked_outside(char out[BRV_ASKED_SIZE], const struct brv_surface *surface);

/* The same of what the pulses meet: air when the medium lies there before or after them only. */
const char *brv_asked_meets(char out[BRV_ASKED_SIZE], const struct brv_scenario *ask);

/* "10 pulses, 3 a second, in 2 passes with 5 s between them; the last begins at 9 s"; "" for one pulse. */
const char *brv_asked_train(char out[BRV_ASKED_SIZE], const struct brv_pulse *pulse);

/* "plate on the skin from -1 s to 2 s, at 5 C, 5000 W/m2/K"; "to the end" when surface.to is infinite; "" where still air
 * lies there all the time. */
const char *brv_asked_cover(char out[BRV_ASKED_SIZE], const struct brv_scenario *ask);

/* Both in one: "air outside; forced air on the skin from 0 s to 50 s, at -20 C, 500 W/m2/K". */
const char *brv_asked_skin_meets(char out[2 * BRV_ASKED_SIZE], const struct brv_scenario *ask);

/* "L* 62, b* 17, ITA 35.2: 2.33 % (0.26 to 3.84) melanosomes in 60 um by this model, not measured";
 * "" for a skin that came from no colour. */
const char *brv_asked_colour(char out[BRV_ASKED_SIZE], const struct brv_scenario *ask);

/* "only the angle is matched: this model's skin has L* 63.9, b* 19.7"; "" likewise. */
const char *brv_asked_made_colour(char out[BRV_ASKED_SIZE], const struct brv_scenario *ask);

/* "0.1-0.6": columns in um from which a sign may show, as unsure as that is; the scenario's own where it lies beyond. */
const char *brv_asked_sign(char out[BRV_ASKED_SIZE], const struct brv_watch *watch);

/* "2.33 % (0.26 to 3.84)": shares. */
const char *brv_asked_share(char out[BRV_ASKED_SIZE], double value, double low, double high);

#endif
