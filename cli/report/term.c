#include "report/term.h"

#include "report/number.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* clang-format off */
const struct brv_term brv_terms[BRV_N_HEADLINE] = {
    [BRV_HEADLINE_ENERGY] = {"energy of a pulse", "mJ", 1e3, "energy_J", "J", true,
     "What a meter reads of one pulse."},
    [BRV_HEADLINE_FLUENCE] = {"fluence", "J/cm2", 1e-4, "fluence_J_m2", "J/m2", true,
     "Energy of one pulse over the area of the spot. On the axis of a gaussian beam it is twice that."},
    [BRV_HEADLINE_PULSES] = {"pulses, spots touching", "/cm2", 1e-4, "pulses_per_m2", "1/m2", true,
     "How many pulses an area takes when spots touch without overlap, each row half a spot aside; 9 % of the skin is then missed. Pulses on one place and passes are counted in."},
    [BRV_HEADLINE_LIGHT_GRAIN] = {"light at the grain", "J/cm2", 1e-4, "light_grain_J_m2", "J/m2", false,
     "Fluence inside the skin, from all directions and with what is scattered back, the mean over the layer in which the grain lies: mostly the basal row. It can be higher than the fluence that comes in."},
    [BRV_HEADLINE_LIGHT_DEEP] = {"light at 1 mm", "J/cm2", 1e-4, "light_1mm_J_m2", "J/m2", false,
     "The same on the axis of the beam, 1 mm deep."},
    [BRV_HEADLINE_GRAIN_PEAK] = {"highest rise of a grain", "K", 1.0, "grain_peak_K", "K", false,
     "Of the mean of one grain's interior, over its start. Without vaporisation: above 112 C, or a lower criterion, it is absorbed energy over heat capacity, not a temperature."},
    [BRV_HEADLINE_THRESHOLD_GRAIN] = {"threshold of a grain", "J/cm2", 1e-4, "threshold_grain_J_m2", "J/m2", false,
     "Fluence of every pulse at which one grain of the scenario's own diameter and darkness reaches the criterion at the place that is watched."},
    [BRV_HEADLINE_THRESHOLD_SIGN] = {"threshold of a sign", "J/cm2", 1e-4, "threshold_sign_J_m2", "J/m2", false,
     "Fluence of every pulse at which enough grains are disrupted to be seen: a column of disrupted pigment 0.3 um thick. Its range: that column 0.1 to 0.6 um, or to watch.sign_column beyond, without a source, and grains 3.16 to 0.316 times as dark."},
    [BRV_HEADLINE_SHARE] = {"grains disrupted", "%", 1e2, "share_disrupted", "1", false,
     "Share of the grains, which differ in darkness and size, that reach the criterion; no pigment: there are none to count. It is not clearance. Its range: the criteria in print, and all grains 0.316 to 3.16 times as dark."},
    [BRV_HEADLINE_RATIO] = {"threshold ratio", "", 1.0, "threshold_ratio", "1", true,
     "Threshold of the neighbour's sign over that of the lesion's. Below 1 the neighbour shows first."},
    [BRV_HEADLINE_LAYER_PEAK] = {"highest rise of its layer", "K", 1.0, "layer_peak_K", "K", false,
     "Of the mean of the layer in which the grain lies, grains and all."},
    [BRV_HEADLINE_DERMIS_PEAK] = {"highest rise at 0.3 mm", "K", 1.0, "rise_0.3mm_K", "K", false,
     "In the dermis, on the axis of the beam."},
    [BRV_HEADLINE_DEEP_PEAK] = {"highest rise at 1 mm", "K", 1.0, "rise_1mm_K", "K", false,
     "Likewise, 1 mm deep."},
    [BRV_HEADLINE_VESSEL] = {"rise of blood by a pulse", "K", 1.0, "vessel_rise_K", "K", false,
     "In a vessel, by the light of one pulse that it takes up itself, if it kept all that heat: on top of what the tissue "
     "around it rises by. A line to look at, no statement about purpura."},
    [BRV_HEADLINE_PRESSURE] = {"pressure in a grain", "MPa", 1e-6, "pressure_Pa", "Pa", false,
     "Rough, a factor of 3 either way; up to the criterion and no further."},
    [BRV_HEADLINE_DAMAGE] = {"damage, log10 Omega", "", 1.0, "log10_omega", "1", false,
     "Of the most damaged layer or depth, by published rates of lasting warmth. 0 stands for burns of the 2nd degree; an illustration where a pulse under a millisecond gathers most of it within a millisecond."},
    [BRV_HEADLINE_SURFACE_PEAK] = {"highest rise at surface", "K", 1.0, "surface_peak_K", "K", false,
     "Of the skin itself, below a film where one lies on it. Without vaporisation."},
    [BRV_HEADLINE_FILM_PEAK] = {"highest rise of a film", "K", 1.0, "film_peak_K", "K", false,
     "Of the mean of a film on the skin. Above the criterion it is absorbed energy over heat capacity: such a film boils, burns or flies off."},
};

const struct brv_word brv_words[] = {
    {"lesion", "The spot that is treated, computed as if it filled the beam. It differs from its neighbour by more pigment, or by what the scenario says."},
    {"neighbour", "The skin around it, computed likewise. No heat goes from one to the other."},
    {"grain", "One pigment grain, a melanosome, in its cell: the share of the layer that belongs to it. The grain that is followed lies in the layer with the densest pigment unless the scenario names another."},
    {"its layer", "Epidermis, basal row or whichever layer it lies in; grains and layer hold the same energy."},
    {"criterion", "The temperature at which a grain counts as disrupted, 112, 136 or 150 C in print, and the place in the grain where it is looked for: centre, mean or surface."},
    {"disrupted", "A grain that reached the criterion. In the model nothing follows from it; in skin, cavities of gas whiten it."},
    {"sign", "Something one can see at once, whitening: enough disrupted pigment on an area. One grain and a sign are two things."},
    {"none, unsure, sign", "Fluence below the range of a sign's threshold, within it, above it."},
    {"spread, low and high, brackets", "How far a number may be off for a reason that is named beside it. In a run: grains 0.316 and 3.16 times as dark, from two more solves of the light."},
    {"~", "In a comparison: differs from the first choice by less than the spread of either. In a summary, before a time: later heat also leaves sideways."},
    {"choice", "A scenario with a few keys changed, set beside it by `compare`."},
    {"equal light", "The fluence at which a choice has the first one's light at some place, over the first one's fluence. A ratio of light, not a setting."},
    {"test spots, ladder", "The user's own steps of fluence; the program says what each should show and proposes none."},
    {"window", "Which pulse widths and fluences disrupt grains or show a sign, in lesion and neighbour, and where layers are damaged."},
    {"sweep", "The same scenario run over many values of one or two keys."},
    {"cover", "Spots of one pulse each laid on an area: which skin they miss, hit once, twice and more."},
    {"overlap", "How far neighbouring spots of a row reach into each other, over their diameter. At 10 % the next spot begins nine tenths of a diameter on."},
    {"hit, missed", "A place within a spot is hit; of a gaussian spot, within its 1/e2 diameter. Missed skin is hit by none."},
    {"dose", "What falls on one place in all, counted in what one pulse gives on its axis."},
    {"coefficient of variation", "Standard deviation over mean: how uneven a dose is."},
    {"slip", "What goes wrong in a hand: tilt, distance, spot, output."},
    {"draw", "One set of all uncertain inputs, taken from their ranges."},
    {"indices", "Shares of the variance of an answer that go back to one input: alone (first order), or in all ways it enters (total)."},
    {"visit", "One of several with the same pulse. A teaching model: what is disrupted at it is gone by the next, and what the scenario says returns."},
    {"returns", "Share of the missing pigment that is back at the next visit, grains of the kind that is missing. Nobody has measured it."},
    {"pigment left", "Grains there by their volume, in all layers together, over those before the first visit."},
    {"in all", "Fluence of all pulses on one place so far: a mere sum, no threshold of harm is known."},
    {"threshold of the darkest", "Fluence that disrupts 5 % of the grains there at a visit, by number: the darkest and largest of them."},
    {"relaxation time", "How long a grain, heated at once, needs to lose heat; by definitions that differ up to ten-fold, so each is named."},
    {"time of sound", "Diameter of a grain over the speed of sound. Pulses shorter than that let pressure build up."},
    {"film", "What lies on the skin and absorbs: make-up, sunscreen, soot. The user says how much; it is heated first, and depths go on counting from the skin below it."},
    {"body site", "A place of the body whose thicknesses a ready skin takes, with method and source; 'no site value' where none was measured in a way that can be used."},
    {"tan", "The neighbour once more with more pigment. What it does to a margin is shown; nothing is said of it."},
    {"without vaporisation", "Above 112 C, or a lower criterion of 100 C and more, a figure is absorbed energy over heat capacity, not a temperature: boiling is not in the model."},
    {"edition", "Whose exposure limits: a directive, a guideline, a standard, each of its year. They differ, and the one in force is for the laser protection adviser to say."},
    {"exposure limit", "What an eye or a skin may meet, read off a table by wavelength and time, not computed from tissue. It is for bystanders; treatment lies far above the limit of skin by intent."},
    {"optical density", "How many powers of ten lie between an exposure and the limit. It is a number of light, and no choice of eyewear."},
    {"limit met at", "The distance at which an exposure has fallen to the limit of the eye: along the beam, or of light that skin scatters. Closer, it is above."},
    {"scattered, as wide as the spot", "A source that looks wide spreads its light over the retina, so it is allowed more, by the factor C_E. How wide it looks depends on the distance, and the distance on that."},
    {"L*, a*, b*", "A measured colour: how light, how red over green, how yellow over blue. Here of skin under daylight (D65) for the 2 degree observer, the mirror of its surface left out."},
    {"ITA", "Individual typology angle, arctan((L* - 50)/b*) in degrees: smaller for darker skin. Of a skin it says more than a type by questionnaire does, and no setting follows from it."},
    {"class by ITA", "Very light, light, intermediate, tanned, brown, dark: names for ranges of ITA."},
    {"contrast", "The share of the light that comes back from skin which is missing where pigment lies in the dermis."},
    {"reading", "What a meter said of one pulse. Readings of one day are one point: their mean."},
    {"random and systematic", "What differs from reading to reading, which more readings narrow, and what is the same in all of them, which none mends."},
    {"drift", "Slope of a line through the days' means. Told only where its interval does not hold 0."},
    {"outside what these readings usually do", "Further from their mean than 2.66 times the mean step from one day to the next. To be looked into; no verdict."},
    {"published", "Printed in a paper, of other people under other pulses. Never advice."},
};
const size_t brv_n_words = sizeof brv_words / sizeof *brv_words;
/* clang-format on */

const char *brv_term_label(char out[BRV_TERM_SIZE], enum brv_headline which)
{
    const struct brv_term *term = &brv_terms[which];
    snprintf(out, BRV_TERM_SIZE, "%s%s%s", term->name, *term->unit ? ", " : "", term->unit);
    return out;
}

enum digits { NEAREST_TWO, DOWN_TO_TWO, UP_TO_TWO, NEAREST_THREE };

/* So many significant digits without exponent where that reads well. */
static const char *number(char out[BRV_TERM_SIZE], double value, enum digits digits)
{
    if (digits == DOWN_TO_TWO || digits == UP_TO_TWO) return brv_number_outward(out, value, digits == UP_TO_TWO);
    if (digits == NEAREST_THREE || isnan(value) || fabs(value) >= 99.5) return brv_number_short(out, value);
    snprintf(out, BRV_TERM_SIZE, "%.2g", value);
    return out;
}

/* Two digits for shares of grains, for the model is no better; "none" is told, not left out. */
static const char *value_of(char out[BRV_TERM_SIZE], enum brv_headline which, double value, enum digits digits)
{
    const double shown = value * brv_terms[which].scale;
    if (which == BRV_HEADLINE_SHARE && isnan(value))
        snprintf(out, BRV_TERM_SIZE, BRV_TERM_NO_PIGMENT);
    else if (which == BRV_HEADLINE_SHARE && shown < 0.01)
        snprintf(out, BRV_TERM_SIZE, value > 0.0 ? "<0.01" : "0");
    else if (which == BRV_HEADLINE_SHARE)
        snprintf(out, BRV_TERM_SIZE, shown < 9.95 ? "%.2g" : "%.0f", shown);
    else if (which == BRV_HEADLINE_PRESSURE && shown < 0.01)
        snprintf(out, BRV_TERM_SIZE, "<0.01");
    else if (which == BRV_HEADLINE_DAMAGE && shown < BRV_TERM_LEAST_DAMAGE)
        snprintf(out, BRV_TERM_SIZE, "<%.0f", BRV_TERM_LEAST_DAMAGE);
    else if (which == BRV_HEADLINE_DAMAGE)
        snprintf(out, BRV_TERM_SIZE, "%.1f", shown);
    else if ((which == BRV_HEADLINE_THRESHOLD_SIGN || which == BRV_HEADLINE_THRESHOLD_GRAIN) && isnan(value))
        snprintf(out, BRV_TERM_SIZE, "none");
    else
        number(out, shown, digits);
    return out;
}

const char *brv_term_value(char out[BRV_TERM_SIZE], enum brv_headline which, double value)
{
    return value_of(out, which, value, NEAREST_THREE);
}

/* Would low and high say no more than the value, at so many digits? */
static bool is_alone(enum brv_headline which, const struct brv_spread *spread, enum digits digits)
{
    char value[BRV_TERM_SIZE], low[BRV_TERM_SIZE], high[BRV_TERM_SIZE];
    value_of(value, which, spread->value, digits);
    return !strcmp(value, value_of(low, which, spread->low, digits)) &&
           !strcmp(value, value_of(high, which, spread->high, digits));
}

const char *brv_term_spread(char out[BRV_TERM_SIZE], enum brv_headline which, const struct brv_spread *spread)
{
    char value[BRV_TERM_SIZE], low[BRV_TERM_SIZE], high[BRV_TERM_SIZE];
    brv_term_value(value, which, spread->value);
    if (is_alone(which, spread, NEAREST_THREE))
        snprintf(out, BRV_TERM_SIZE, "%.20s", value);
    else
        snprintf(out, BRV_TERM_SIZE, "%.16s (%.16s to %.16s)", value, brv_term_value(low, which, spread->low),
                 brv_term_value(high, which, spread->high));
    return out;
}

const char *brv_term_compact(char out[BRV_TERM_SIZE], enum brv_headline which, const struct brv_spread *spread)
{
    char value[BRV_TERM_SIZE], low[BRV_TERM_SIZE], high[BRV_TERM_SIZE];
    brv_term_value(value, which, spread->value);
    if (is_alone(which, spread, NEAREST_TWO))
        snprintf(out, BRV_TERM_SIZE, "%.20s", value);
    else
        snprintf(out, BRV_TERM_SIZE, "%.16s (%.16s..%.16s)", value, value_of(low, which, spread->low, DOWN_TO_TWO),
                 value_of(high, which, spread->high, UP_TO_TWO));
    return out;
}
