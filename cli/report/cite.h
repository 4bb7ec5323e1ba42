/* Sources that a run rests on, in words for people: the key, the reference, how it was seen, what it is used for.
 * The references are the beginnings of the entries of docs/sources.md, held to them by tests/cli/report.sh; that every key
 * of the tables has one is tested in tests/unit/test_page.c.                                                        */
#ifndef BRV_CLI_REPORT_CITE_H
#define BRV_CLI_REPORT_CITE_H

#include "run/run.h"

#include <stddef.h>

struct brv_citation {
    const char *key, *text;
};

extern const struct brv_citation brv_citations[]; /* by key */
extern const size_t brv_n_citations;

/* The reference of a key, or NULL. */
const char *brv_citation_text(const char *key);

enum { BRV_MOST_CITED = 80 };

struct brv_cited {
    size_t n;
    struct brv_cited_use {
        const char *key, *seen, *what;
    } used[BRV_MOST_CITED];
};

/* Adds what one run rests on to a list that begins empty: tables of tissue, criteria, rates, the body site, and the defaults
 * that the scenario leaves in place. Each key and purpose once.                                                     */
void brv_cited_collect(struct brv_cited *cited, const struct brv_result *result);

#endif
