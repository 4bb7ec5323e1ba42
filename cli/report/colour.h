/* What `brevis colour` says: colour and reflectance of both skins, what pigment a measured colour stands for, and how well
 * pigment in the dermis is seen by its depth. CSV, text and JSON, and what its figures are drawn by.                   */
#ifndef BRV_CLI_REPORT_COLOUR_H
#define BRV_CLI_REPORT_COLOUR_H

#include "report/gnuplot.h"
#include "scenario/request.h"
#include "side/colour.h"
#include "side/visibility.h"

#include <stdio.h>

enum { BRV_N_SPECTRUM = 141 }; /* 400 to 1100 nm, a row every 5 nm */

struct brv_colour_answer {
    const struct brv_request *request;
    double wavelength[BRV_N_SPECTRUM];          /* [m] */
    double diffuse[BRV_N_SITE][BRV_N_SPECTRUM]; /* without the mirror of the surface [1] */
    double mirror[BRV_N_SITE];                  /* of the surface [1] */
    struct brv_colour_range colour[BRV_N_SITE];
    bool own_layers;                   /* pigment below is that of the neighbour's layers, else of ready ones */
    struct brv_colour_pigment pigment; /* that the neighbour's ITA stands for */
    struct brv_colour_pigment limit[BRV_N_ITA_CLASS - 1]; /* at the darker limit of every class but the last */
    struct brv_colour_pigment within[BRV_N_ITA_CLASS];    /* in the middle of a class; empty for the two open ones */
    struct brv_colour_bounds bounds;
    struct brv_visibility seen;
};

/* wavelength_m, neighbour, lesion */
void brv_reflectance_csv(FILE *to, const struct brv_colour_answer *answer);

/* depth_m, contrast_400nm, contrast_450nm, contrast_550nm, contrast_650nm, change_L, change_a, change_b */
void brv_visibility_csv(FILE *to, const struct brv_colour_answer *answer);

/* Under 40 lines with the one that names the files. */
void brv_colour_summary(FILE *to, const struct brv_colour_answer *answer);

void brv_colour_digest(FILE *to, const struct brv_colour_answer *answer);

/* The figures and their words, which must outlive them: reflectance, and visibility where there is one. Returns how many. */
enum { BRV_COLOUR_TEXT = 512 };
struct brv_colour_words {
    char marks[BRV_COLOUR_TEXT], asked[BRV_COLOUR_TEXT], layer[BRV_COLOUR_TEXT], corner[BRV_COLOUR_TEXT];
};
size_t brv_colour_figures(struct brv_figure figure[2], struct brv_colour_words *words,
                          const struct brv_colour_answer *answer);

#endif
