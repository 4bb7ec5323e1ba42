/* Body sites: how thick the layers of skin are there, by the method that measured them.
 * Epidermis from histology, a microscope or optical coherence tomography only. Ultrasound counts the echo at the entrance
 * as epidermis and finds three times as much, so from ultrasound only a dermis is taken, and it is labelled.
 * A site without an epidermis of its own keeps the default, a site without a dermis an endless one; both are told.
 * low and high: mean +- 1.645 standard deviations where a paper prints them (5 to 95 of 100 people), the range over regions,
 * or a third either way where nothing is printed, a choice of this project.
 * Sources: [sandby-moller-2003], [chopra-2015], [selcuk-thickness], [ultrasound-2022],
 * [whitton-everall-1973], [jacques-penetration].
 * Tests: tests/unit/test_body.c, which works the table out again from what the papers print.                     */
#ifndef BRV_SCENARIO_BODY_H
#define BRV_SCENARIO_BODY_H

#include "scenario/scenario.h"

#include <stdbool.h>

/* A thickness; value 0: there is none. */
struct brv_measured {
    double value, low, high;   /* [m] */
    const char *method;        /* "histology", "microscope", "ultrasound" */
    const char *source, *seen; /* as in the table of keys */
    bool chosen;               /* low and high are this project's */
};

struct brv_body_site {
    const char *name;
    const char *where;                            /* in words */
    struct brv_measured epidermis, horny, dermis; /* epidermis: all living layers, with the basal row; where the horny
                                                     layer was not told apart, with that too */
};

enum { BRV_N_BODY_SITE = 15 };
extern const struct brv_body_site brv_body_sites[BRV_N_BODY_SITE];

#define BRV_BODY_BASAL 10e-6 /* of the epidermis is the basal row, everywhere [m] */
#define BRV_BODY_UPPER 50e-6 /* what lies above it in a skin without a site [m] */

/* The site with this name, or -1. */
int brv_body_find(const char *name);

/* Gives a skin of epidermis, basal row and dermis the thicknesses of a site; a measured horny layer comes in front, a
 * measured dermis lies on endless fat. The pigment per area stays: it is what the colour of a skin fixes, so the same
 * pigment is spread through a thicker or thinner upper epidermis, and the basal row keeps its own. Thicknesses count as
 * given. Needs two free layers. `site` must be one of brv_body_sites.                                             */
void brv_body_place(struct brv_skin *skin, const struct brv_body_site *site);

#endif
