/* The vocabulary: how the headlines of a run are called in tables, cards, figures and CSV, and what each means. One list, so
 * that a thing has one name wherever it is shown. docs/theory/glossary.md is written from it.                       */
#ifndef BRV_CLI_REPORT_TERM_H
#define BRV_CLI_REPORT_TERM_H

#include "study/headline.h"

#include <stdbool.h>
#include <stddef.h>

struct brv_term {
    const char *name;   /* "threshold of a sign" */
    const char *unit;   /* for people: "J/cm2" */
    double scale;       /* SI to that unit */
    const char *column; /* in CSV, with its unit in SI: "threshold_sign_J_m2" */
    const char *si;     /* "J/m2" */
    bool shared;        /* the same in lesion and neighbour */
    const char *meaning;
};

extern const struct brv_term brv_terms[BRV_N_HEADLINE]; /* by enum brv_headline */

/* The other words of the house. */
struct brv_word {
    const char *word, *meaning;
};

extern const struct brv_word brv_words[];
extern const size_t brv_n_words;

/* "threshold of a sign, J/cm2"; the name alone where there is no unit. Returns `out`. */
enum { BRV_TERM_SIZE = 64 };
const char *brv_term_label(char out[BRV_TERM_SIZE], enum brv_headline which);

/* What stands for a share of the grains where there are none: it takes no unit. */
#define BRV_TERM_NO_PIGMENT "no pigment"

/* The value for people, three digits, in the term's unit; "none" where a sign or light cannot be. Returns `out`. */
const char *brv_term_value(char out[BRV_TERM_SIZE], enum brv_headline which, double value);

#define BRV_TERM_LEAST_DAMAGE (-3.0) /* log10 Omega: less is told as "<-3" */

/* "1.53 (0.6 to 3.2)"; the value alone where nothing is uncertain, "1.2 (0.5 to none)" where there is no upper end. */
const char *brv_term_spread(char out[BRV_TERM_SIZE], enum brv_headline which, const struct brv_spread *spread);

/* "0.278 (0.19..0.58)": the same for narrow columns, low and high at two digits, outward. */
const char *brv_term_compact(char out[BRV_TERM_SIZE], enum brv_headline which, const struct brv_spread *spread);

#endif
