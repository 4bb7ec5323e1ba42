/* What `brevis ladder` says: test spots on one page, for the terminal and to print. There is no CSV and no JSON of it, so
 * that no machine takes it for settings.                                                                             */
#ifndef BRV_CLI_REPORT_LADDER_H
#define BRV_CLI_REPORT_LADDER_H

#include "scenario/request.h"
#include "study/test_spots.h"

#include <stdio.h>

struct brv_card {
    const struct brv_request *request;
    const struct brv_test_spots *spots;
    const char *const *set; /* [n_set] what --set changed: said in full, for a title has no room for all */
    size_t n_set;
};

void brv_card_text(FILE *to, const struct brv_card *card);

/* The same as a page in HTML: A4, black and white, no network. */
void brv_card_page(FILE *to, const struct brv_card *card);

#endif
