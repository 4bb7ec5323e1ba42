/* A body site, and a film on the skin, in words: which thicknesses it gave, by what method, and where there is no value. */
#ifndef BRV_CLI_REPORT_BODY_H
#define BRV_CLI_REPORT_BODY_H

#include "report/json.h"
#include "scenario/body.h"

#include <stdbool.h>
#include <stdio.h>

enum { BRV_BODY_SIZE = 360 };

/* "neck: epidermis no site value (default 50 + 10 um); dermis 986 um (618 to 1342), ultrasound, on fat"; "" without a
 * site. Returns `out`.                                                                                            */
const char *brv_body_text(char out[BRV_BODY_SIZE], const struct brv_skin *skin);

/* "2 um, 2000 /cm: heated first; above 112 C its heat is energy over heat capacity, and what skin gets of it as well"; ""
 * for bare skin. Returns `out`.                                                                                  */
const char *brv_film_text(char out[BRV_BODY_SIZE], const struct brv_film_ask *film);

/* Lines SITE and FILM, where there is such a thing, for outputs that tell of it nowhere else. */
void brv_body_lines(FILE *to, const struct brv_scenario *ask);

/* The table of sites with what it means, plain or for a page in Markdown. */
void brv_body_list(FILE *to, bool page);

/* Object `site`, where there is one. */
void brv_body_digest(struct brv_json *json, const struct brv_skin *skin);

#endif
