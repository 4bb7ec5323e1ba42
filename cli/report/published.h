/* What papers report of light on pigment, by wavelength: spots, fluences and visits that were used there, thresholds that
 * were seen, what came of it. Of other people, never advice. One table for the card of test spots, for the comparison
 * with published ranges and for docs/published_ranges.md.                                                          */
#ifndef BRV_CLI_REPORT_PUBLISHED_H
#define BRV_CLI_REPORT_PUBLISHED_H

#include <stdbool.h>
#include <stddef.h>

/* Of what a row reports. */
enum brv_published_kind { BRV_TREATED, BRV_THRESHOLD, BRV_ANIMAL, BRV_N_PUBLISHED_KIND };

/* By what a pulse can do: below 1 ns pressure builds up in grains, above 1 us layers and vessels warm. Rows that compare
 * two classes count as the longer one that still acts on grains.                                                     */
enum brv_pulse_class { BRV_PICO, BRV_NANO, BRV_LONG, BRV_N_PULSE_CLASS };

struct brv_published {
    double wavelength;          /* [m]; NAN: several or none in particular */
    double low, high;           /* fluence [J/m2]; NAN: not in what was read */
    double spot_low, spot_high; /* diameter [m]; NAN: not in what was read */
    const char *pulse;          /* as printed */
    const char *condition;      /* what was treated, or what was looked for */
    int n;                      /* people; 0: not said in what was read */
    const char *name;           /* short, of the paper: "Kono" */
    int year;                   /* 0: not in what was read */
    const char *skin;           /* whose, as printed; "-": not said */
    const char *visits, *outcome, *adverse;
    const char *doi;           /* or where it was read */
    const char *source, *seen; /* key of docs/sources.md */
    bool sun;                  /* of sun-induced pigment, or of healthy skin; other diseases are told apart */
    int sign_of;               /* a threshold of whitening: BRV_LESION or BRV_NEIGHBOUR; -1: none */
    enum brv_pulse_class pulses;
    bool on_card; /* shown by the card of test spots: a fluence in people, nanoseconds or shorter */
    enum brv_published_kind kind;
};

extern const struct brv_published brv_published[];
extern const size_t brv_n_published;

/* What was seen to go wrong, and how often. */
struct brv_complication {
    const char *event, *under; /* what, and where; `under` is "" when the event says it all */
    const char *rate;          /* as printed */
    const char *source, *seen; /* key of docs/sources.md */
    bool repeated;             /* after visits that were repeated, at 1064 nm: shown beside `brevis visits` */
    double share;              /* of n people, for those; NAN for others [1] */
    int n;
    bool chosen; /* people are in the report because of it: no frequency follows from their number */
};

extern const struct brv_complication brv_complications[];
extern const size_t brv_n_complications;

/* What nobody has published, as far as this project's search went. */
extern const char brv_published_gap[];

/* The class of a pulse of this width [s]. */
enum brv_pulse_class brv_published_class(double width);

/* Does row i belong to this wavelength? Lines of lasers are told apart, not shades of one. */
bool brv_published_is_at(size_t i, double wavelength);

/* Is it one that the card of test spots shows at this wavelength? */
bool brv_published_is_on_card(size_t i, double wavelength);

/* "Kono 2006"; the name alone where no year was seen. */
enum { BRV_PUBLISHED_NAME_SIZE = 64 };
const char *brv_published_name(char out[BRV_PUBLISHED_NAME_SIZE], const struct brv_published *row);

#endif
