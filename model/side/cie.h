/* Colour as it is measured on skin: CIE L*a*b* under D65 for the 2 degree observer, and the angle ITA made from it.
 *     X = k sum S xbar R,  k such that a perfect diffuser (R = 1) has Y = 100;  likewise Y, Z
 *     L* = 116 f(Y/Yn) - 16,  a* = 500 [f(X/Xn) - f(Y/Yn)],  b* = 200 [f(Y/Yn) - f(Z/Zn)]
 *     f(t) = t^(1/3) above 216/24389, else (24389/27 t + 16)/116
 *     ITA = arctan((L* - 50)/b*) 180/pi
 * Sums run over a table of 5 nm steps, 380 to 780 nm. The white point is summed over the same wavelengths as the skin.
 * Cut to 400-700 nm on both, skins of this model change by less than 0.05 degrees of ITA against 400-780 nm, and steps of
 * 10 for 5 nm by less than 0.05: tests/verification/test_colour.c.
 * Source: [cie-15] (table seen in a public copy, D65 computed), [chardon-1991] (limits of the classes, second-hand) */
#ifndef BRV_SIDE_CIE_H
#define BRV_SIDE_CIE_H

#include <stddef.h>

enum { BRV_CIE_FIRST = 380, BRV_CIE_LAST = 780, BRV_CIE_STEP = 5, BRV_N_CIE = 81 }; /* wavelengths [nm] */

struct brv_cie_row {
    double x, y, z; /* colour-matching functions of the 2 degree observer [1] */
    double power;   /* D65, relative                                      [1] */
};

extern const struct brv_cie_row brv_cie_table[BRV_N_CIE]; /* row i is BRV_CIE_FIRST + 5 i nm */

/* L*, a*, b* [1] */
struct brv_lab {
    double lightness, red, yellow; /* red: towards green below 0; yellow: towards blue below 0 */
};

/* X, Y, Z of light that comes back from a surface lit by D65; reflectance[i] belongs to first + i step nm, where step
 * is a multiple of 5. NULL: a perfect diffuser, and then Y is 100.                                               */
void brv_cie_sum(double xyz[3], int first, int step, size_t n, const double reflectance[]);

struct brv_lab brv_cie_lab(const double xyz[3], const double white[3]);

/* Individual typology angle, -90 to 90 [degree]; NAN unless b* > 0. */
double brv_cie_ita(double lightness, double yellow);

/* Classes by ITA, the lightest first; a limit belongs to the darker one. */
enum { BRV_N_ITA_CLASS = 6 };
struct brv_ita_class {
    const char *name;
    double above; /* its darker limit [degree] */
};
extern const struct brv_ita_class brv_ita_classes[BRV_N_ITA_CLASS];

/* Which class; BRV_N_ITA_CLASS for NAN. */
size_t brv_ita_class_of(double ita);

#endif
