/* Closed forms for equal circles in rows, by lenses and by the figure that three circles have in common. Written without
 * the model and never linked into it. Elementary geometry; test_cover.c proves them by packing and by counting.     */
#ifndef BRV_TESTS_SUPPORT_EXACT_COVER_H
#define BRV_TESTS_SUPPORT_EXACT_COVER_H

/* Area that two circles of radius r share, centres d apart. */
double exact_lens(double r, double d);

/* Area that three circles of radius r share, centres at the corners of a triangle of side d; 0 where there is none. */
double exact_three(double r, double d);

/* Shares of the skin missed, hit once, twice, three times by circles of diameter 1. NAN where no such form is known here:
 * hexagonal beyond an overlap of 1 - 1/sqrt(3) = 42.3 %, square beyond 1 - 1/sqrt(2) = 29.3 %.                      */
void exact_cover_hexagonal(double share[4], double overlap);
void exact_cover_square(double share[4], double overlap);

#endif
