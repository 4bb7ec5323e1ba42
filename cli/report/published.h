/* Fluences that papers report for people, by wavelength: what was used or seen there, never advice. */
#ifndef BRV_CLI_REPORT_PUBLISHED_H
#define BRV_CLI_REPORT_PUBLISHED_H

#include <stdbool.h>
#include <stddef.h>

struct brv_published {
    double wavelength;     /* [m] */
    double low, high;      /* fluence [J/m2] */
    const char *pulse;     /* as printed */
    const char *condition; /* what was treated, or what was looked for */
    int n;                 /* people; 0: not said in what was read */
    const char *source;    /* key of docs/sources.md */
    const char *seen;
    bool sun;    /* of sun-induced pigment, or of healthy skin; other diseases are told apart */
    int sign_of; /* a threshold of whitening: BRV_LESION or BRV_NEIGHBOUR; -1: none */
};

extern const struct brv_published brv_published[];
extern const size_t brv_n_published;

/* Does row i belong to this wavelength? Lines of lasers are told apart, not shades of one. */
bool brv_published_is_at(size_t i, double wavelength);

#endif
