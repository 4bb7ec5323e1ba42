/* What `brevis room` says: limits by edition, density and distances on one page, for the terminal and to print.
 * There is no CSV and no JSON of it: these are numbers to talk about with the adviser, not to copy. */
#ifndef BRV_CLI_REPORT_ROOM_H
#define BRV_CLI_REPORT_ROOM_H

#include "report/sheet.h"
#include "scenario/request.h"
#include "side/hazard.h"

#include <stdio.h>

struct brv_room_card {
    const struct brv_request *request;
    const struct brv_hazard *hazard;
    const char *const *set; /* [n_set] what --set changed */
    size_t n_set;
};

/* `whole`: with what stands behind the numbers, as in card.txt; else the short form for the terminal. */
void brv_room_text(FILE *to, const struct brv_room_card *card, int whole);

/* The same as a page in HTML: A4, black and white, no network. */
void brv_room_page(FILE *to, const struct brv_room_card *card);

/* ---- its parts ---- */

/* What stands above and below the table. */
void brv_room_head(struct brv_sheet *sheet, const struct brv_room_card *card);
void brv_room_notes(struct brv_sheet *sheet, const struct brv_room_card *card);
void brv_room_background(struct brv_sheet *sheet, const struct brv_room_card *card);

/* "EU 2006", "ICNIRP 2013". */
const char *brv_room_edition(int edition);

/* Distances to scale, drawn with lines. */
void brv_room_sketch(FILE *to, const struct brv_room_card *card);

/* The table: one row of what is asked, one column for every edition that was asked for. */
enum { BRV_ROOM_CELL_SIZE = 80, BRV_ROOM_ROWS = 20 };
struct brv_room_row {
    char name[BRV_ROOM_CELL_SIZE];
    char cell[BRV_N_EDITION][BRV_ROOM_CELL_SIZE];
};
struct brv_room_table {
    size_t n_row, n_column;
    int edition[BRV_N_EDITION]; /* [n_column] */
    struct brv_room_row row[BRV_ROOM_ROWS];
};
void brv_room_tabulate(struct brv_room_table *table, const struct brv_room_card *card);

#endif
