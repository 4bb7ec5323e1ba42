/* Problems about heat in grain, vessel and layer, pressure, and thresholds. */
#include "lesson/problems.h"

#include "base/constants.h"
#include "effect/confinement.h"
#include "effect/layer.h"
#include "effect/relaxation.h"
#include "tissue/chromophore.h"

#include <math.h>
#include <stdio.h>

#define SAY(value, unit)   brv_problem_say(maker, value, unit)
#define ABOUT(value, unit) brv_problem_about(maker, value, unit)

/* Divisors of trade formulas: 27 for a grain, 16 for a vessel, 4 for a layer. Source: [relaxation-kappa] */
#define GRAIN  27.0
#define VESSEL 16.0
#define LAYER  4.0

/* What tissue may have instead of the diffusivity that trade formulas take. Source: [trade-diffusivity], from memory */
#define SLOWEST 1.1e-7
#define FASTEST 1.5e-7

static double relaxation(double kappa, double diameter)
{
    return brv_relaxation_time(kappa, diameter, BRV_TRADE_DIFFUSIVITY);
}

/* No time without how far definitions and tissues differ. */
static void tell_definitions(struct brv_problem_maker *maker, double diameter, const char *unit)
{
    double least = INFINITY, most = 0.0;
    for (size_t i = 0; i < brv_n_relaxations; i++) {
        const double time = relaxation(brv_relaxations[i].kappa, diameter);
        least = fmin(least, time);
        most = fmax(most, time);
    }
    brv_problem_step(
        maker,
        "State the formula: the %zu definitions in use make %s to %s of the same %s. A diffusivity of %s or "
        "%s takes each to %s or %s of it.",
        brv_n_relaxations, SAY(least, unit), SAY(most, unit), SAY(diameter, "um"), SAY(FASTEST, "m2/s"),
        SAY(SLOWEST, "m2/s"), SAY(BRV_TRADE_DIFFUSIVITY / FASTEST, "%"), SAY(BRV_TRADE_DIFFUSIVITY / SLOWEST, "%"));
}

brv_status brv_problem_grain_relaxation(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    static const double kappa[2] = {GRAIN, VESSEL}, printed[2][2] = {{285.0, 71.0}, {481.0, 120.0}};
    const double large = brv_problem_given(maker, 1e-6, BRV_CHOICES(0.9e-6, 1e-6, 1.2e-6, 1.5e-6));
    const double small = brv_problem_given(maker, 0.5e-6, BRV_CHOICES(0.3e-6, 0.4e-6, 0.5e-6, 0.6e-6));
    const double diameter[2] = {large, small};
    char quantity[BRV_PROBLEM_QUANTITY];
    brv_problem_ask(maker,
                    "Which relaxation times have pigment grains of %s and %s by d^2/(27 k)? And by d^2/(16 k)? k = %s.",
                    SAY(large, "um"), SAY(small, "um"), SAY(BRV_TRADE_DIFFUSIVITY, "m2/s"));
    for (size_t k = 0; k < 2; k++) {
        brv_problem_step(maker, "By %.0f: %s for %s, %s for %s.", kappa[k], SAY(relaxation(kappa[k], large), "ns"),
                         SAY(large, "um"), SAY(relaxation(kappa[k], small), "ns"), SAY(small, "um"));
        for (size_t i = 0; i < 2; i++) {
            snprintf(quantity, sizeof quantity, "d^2/(%.0f k) of %s", kappa[k], SAY(diameter[i], "um"));
            struct brv_problem_key *key = brv_problem_answer(maker, relaxation(kappa[k], diameter[i]), "ns", quantity);
            brv_problem_printed(maker, key, printed[k][i], 0.5, "course-problems", "computed");
        }
    }
    brv_problem_step(maker, "The larger grain is %s times as wide and takes %s times as long: the square.",
                     SAY(large / small, ""), SAY(relaxation(GRAIN, large) / relaxation(GRAIN, small), ""));
    tell_definitions(maker, large, "ns");
    return BRV_OK;
}

/* ---- how far ---- */

/* The width whose time by d^2/(4 k) is this one. */
static double reach(double time)
{
    const double one = relaxation(LAYER, 1.0);
    return sqrt(time / one);
}

brv_status brv_problem_how_far(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    static const double printed[3] = {51.0, 161.0, 22.8}, digit[3] = {0.5, 0.5, 0.05};
    static const char *const unit[3] = {"nm", "nm", "um"}, *const of[3] = {"ns", "ns", "ms"};
    const double first = brv_problem_given(maker, 5e-9, BRV_CHOICES(4e-9, 6e-9, 7e-9, 10e-9));
    const double second = brv_problem_given(maker, 50e-9, BRV_CHOICES(20e-9, 30e-9, 60e-9, 100e-9));
    const double third = brv_problem_given(maker, 1e-3, BRV_CHOICES(0.5e-3, 2e-3, 5e-3, 10e-3));
    const double time[3] = {first, second, third};
    const double grain = 1e-6;
    char quantity[BRV_PROBLEM_QUANTITY];
    brv_problem_ask(maker, "How far does heat go in %s, in %s and in %s, by sqrt(4 k t)? k = %s.", SAY(time[0], of[0]),
                    SAY(time[1], of[1]), SAY(time[2], of[2]), SAY(BRV_TRADE_DIFFUSIVITY, "m2/s"));
    for (size_t i = 0; i < 3; i++) {
        const double far = reach(time[i]);
        brv_problem_step(maker, "%s: %s, %s the %s of a grain.", SAY(time[i], of[i]), SAY(far, unit[i]),
                         far < grain ? "less than" : "more than", SAY(grain, "um"));
        snprintf(quantity, sizeof quantity, "how far in %s", SAY(time[i], of[i]));
        struct brv_problem_key *key = brv_problem_answer(maker, far, unit[i], quantity);
        brv_problem_printed(maker, key, printed[i], digit[i], "course-problems", "computed");
    }
    brv_problem_step(maker, "A length to compare with, no edge: some heat is farther out at any time.");
    return BRV_OK;
}

brv_status brv_problem_vessel(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double diameter = brv_problem_given(maker, 100e-6, BRV_CHOICES(30e-6, 50e-6, 60e-6, 80e-6, 150e-6));
    const double time = relaxation(VESSEL, diameter);
    brv_problem_ask(maker, "Which relaxation time has a vessel of %s by d^2/(16 k)? k = %s.", SAY(diameter, "um"),
                    SAY(BRV_TRADE_DIFFUSIVITY, "m2/s"));
    brv_problem_step(maker, "d^2/(16 k) = %s.", SAY(time, "ms"));
    brv_problem_step(maker, "A grain of 1 um by its own formula, d^2/(27 k): %s, %s times shorter.",
                     SAY(relaxation(GRAIN, 1e-6), "ns"), SAY(time / relaxation(GRAIN, 1e-6), ""));
    tell_definitions(maker, diameter, "ms");
    struct brv_problem_key *key = brv_problem_answer(maker, time, "ms", "relaxation time");
    brv_problem_printed(maker, key, 4.81, 5e-3, "course-problem-vessel", "seen");
    return BRV_OK;
}

/* ---- pressure ---- */

static const char *confined(double width, double time)
{
    return width < time ? "confined" : "not confined";
}

brv_status brv_problem_stress(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double diameter =
        brv_problem_given(maker, 1e-6, BRV_CHOICES(0.5e-6, 0.6e-6, 0.75e-6, 0.9e-6, 1.2e-6, 1.5e-6));
    const double width = brv_problem_given(maker, 5e-9, BRV_CHOICES(0.3e-9, 4e-9, 5e-9, 7e-9, 10e-9));
    const double stress = brv_confinement_time(diameter, BRV_SOUND_SPEED), heat = relaxation(GRAIN, diameter);
    brv_problem_ask(maker,
                    "Sound travels at %.0f m/s. How long does it need across a grain of %s? Are heat and pressure of a "
                    "pulse of %s confined to the grain?",
                    BRV_SOUND_SPEED, SAY(diameter, "um"), SAY(width, "ns"));
    brv_problem_step(maker, "Across the grain: d/c = %s.", SAY(stress, "ns"));
    brv_problem_step(maker, "Heat: the pulse of %s against d^2/(27 k) = %s: %s.", SAY(width, "ns"), SAY(heat, "ns"),
                     confined(width, heat));
    brv_problem_step(maker, "Pressure: the pulse against %s: %s.", SAY(stress, "ns"), confined(width, stress));
    brv_problem_step(maker, "The speed of sound in tissue is 1450 to 1580 m/s: %s to %s.",
                     SAY(brv_confinement_time(diameter, 1580.0), "ns"),
                     SAY(brv_confinement_time(diameter, 1450.0), "ns"));
    struct brv_problem_key *key = brv_problem_answer(maker, stress, "ns", "time of sound across");
    brv_problem_printed(maker, key, 0.67, 5e-3, "course-problems", "computed");
    key = brv_problem_answer(maker, heat, "ns", "relaxation time");
    brv_problem_printed(maker, key, 285.0, 0.5, "course-problems", "computed");
    return BRV_OK;
}

/* ---- thresholds ---- */

brv_status brv_problem_wavelengths(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double ultraviolet = brv_problem_given(maker, 0.11e4, BRV_CHOICES(0.08e4, 0.1e4, 0.12e4));
    const double green = brv_problem_given(maker, 0.20e4, BRV_CHOICES(0.16e4, 0.18e4, 0.24e4, 0.25e4));
    const double infrared = brv_problem_given(maker, 1.0e4, BRV_CHOICES(0.8e4, 0.9e4, 1.2e4, 1.4e4));
    const double pigment = brv_chromophore_melanosome(532e-9, 1.0) / brv_chromophore_melanosome(1064e-9, 1.0);
    brv_problem_ask(
        maker,
        "%s whitens at %s at 355 nm, at %s at 532 nm and at %s at 1064 nm. How much more strongly does it take "
        "up light of 532 nm than of 1064 nm, as far as thresholds tell?",
        maker->drawn ? "In an exercise, skin" : "Skin of pigmented guinea pigs", SAY(ultraviolet, "J/cm2"),
        SAY(green, "J/cm2"), SAY(infrared, "J/cm2"));
    brv_problem_step(maker, "The same effect takes fluence in inverse proportion to what is taken up: %s / %s = %s.",
                     SAY(infrared, "J/cm2"), SAY(green, "J/cm2"), SAY(infrared / green, ""));
    brv_problem_step(maker,
                     "Pigment alone absorbs %s times as strongly at 532 nm, by the curve that this program takes.",
                     SAY(pigment, ""));
    brv_problem_step(maker,
                     "Part of the rest is the way there: of 1064 nm more light reaches a grain, so less has to come "
                     "in. What else is in it, two thresholds cannot tell.");
    struct brv_problem_key *key = brv_problem_answer(maker, infrared / green, "", "532 over 1064 nm, from thresholds");
    brv_problem_printed(maker, key, 5.0, 0.05, "anderson-1989", "abstract");
    brv_problem_answer(maker, pigment, "", "532 over 1064 nm, pigment alone");
    return BRV_OK;
}

/* A ratio below 1 is more than nothing left: the order is turned round. */
static void tell_room(struct brv_problem_maker *maker, double before, double after)
{
    const double rounding = 1e-9;
    if (after > 1.0 + rounding)
        brv_problem_step(maker, "Of the part above 1, where the spot whitens and the skin does not, %s is left.",
                         SAY((after - 1.0) / (before - 1.0), "%"));
    else if (after > 1.0 - rounding)
        brv_problem_step(maker, "At 1 spot and skin whiten at the same fluence: nothing lies between them.");
    else
        brv_problem_step(maker, "Below 1 the tanned skin whitens first, before the spot: a "
                                "fluence that whitens the spot is above the skin's threshold.");
}

brv_status brv_problem_tan(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double lesion = brv_problem_given(maker, 1.4e4, BRV_CHOICES(1.2e4, 1.25e4, 1.4e4, 1.5e4));
    const double skin = brv_problem_given(maker, 3.1e4, BRV_CHOICES(2.4e4, 2.8e4, 3.0e4, 3.5e4));
    const double tan = brv_problem_given(maker, 0.5, BRV_CHOICES(0.5, 0.6, 0.7));
    const double before = skin / lesion, after = tan * before;
    brv_problem_ask(
        maker,
        "%s spots whiten at %s, the skin around them at %s. What is the threshold ratio, skin over spots? A tan takes "
        "the skin's threshold down to %s of it: which ratio is left?",
        maker->drawn ? "In an exercise," : "In one group of people, at 694 nm,", SAY(lesion, "J/cm2"),
        SAY(skin, "J/cm2"), SAY(tan, "%"));
    brv_problem_step(maker, "Before: %s / %s = %s.", SAY(skin, "J/cm2"), SAY(lesion, "J/cm2"), SAY(before, ""));
    brv_problem_step(maker, "Tanned: %s / %s = %s.", SAY(tan * skin, "J/cm2"), SAY(lesion, "J/cm2"), SAY(after, ""));
    tell_room(maker, before, after);
    brv_problem_step(maker,
                     "%s. One person may lie anywhere around a mean, and a ratio is no margin: below whitening, "
                     "skin was darker at one week [hruza-1991].",
                     maker->drawn ? "Numbers of an exercise" : "Means of a group; their abstract tells no spread");
    struct brv_problem_key *key = brv_problem_answer(maker, before, "", "ratio before");
    brv_problem_printed(maker, key, 2.21, 5e-3, "hruza-1991", "abstract");
    key = brv_problem_answer(maker, after, "", "ratio with a tan");
    brv_problem_printed(maker, key, 1.11, 5e-3, "course-problems", "computed");
    return BRV_OK;
}

/* ---- repetition ---- */

/* Three answers, for three ways to cool: a grain is small among cold neighbours, a layer has room on one side only, a
 * spot wider than light goes deep hardly loses heat sideways at all. */
static void tell_grain(struct brv_problem_maker *maker, double time, double apart)
{
    brv_problem_step(
        maker,
        "Grain: d^2/(27 k) = %s; the next pulse comes after %s times that. It has long been as warm as its "
        "layer: in the grain itself nothing adds up.",
        SAY(time, "us"), SAY(apart / time, ""));
}

/* Rise of the surface just before pulse `pulses`, over the rise of one: what each pulse before has left. */
static double sum_before(double pulses, double times)
{
    double sum = 0.0;
    for (double i = 1.0; i < pulses; i += 1.0) sum += brv_layer_surface(i * times);
    return sum;
}

static void tell_layer(struct brv_problem_maker *maker, double time, double apart)
{
    const double times = apart / time;
    const double slow = times * SLOWEST / BRV_TRADE_DIFFUSIVITY, fast = times * FASTEST / BRV_TRADE_DIFFUSIVITY;
    brv_problem_step(
        maker,
        "Layer: d^2/(4 k) = %s; the next pulse comes after n = %s times that. Heat leaves on one side only "
        "and the warm part widens as sqrt(t): what is left falls as 1/sqrt(n), not as an exponential.",
        SAY(time, "ms"), SAY(times, ""));
    brv_problem_step(maker,
                     "Evenly heated, nothing lost through the surface, the same skin below: left is erf(1/sqrt(n)) = "
                     "%s at the surface, %s as the mean of the layer (surface %s to %s for k of %s to %s). It adds up.",
                     SAY(brv_layer_surface(times), "%"), SAY(brv_layer_mean(times), "%"),
                     ABOUT(brv_layer_surface(fast), "%"), ABOUT(brv_layer_surface(slow), "%"), SAY(FASTEST, "m2/s"),
                     SAY(SLOWEST, "m2/s"));
    brv_problem_step(
        maker,
        "Just before pulse 20 the surface still has %s times the rise of one pulse, if none of it goes "
        "sideways, and the sum goes on growing. Even 72 times d^2/(4 k) after a pulse %s of its rise is left.",
        ABOUT(sum_before(20.0, times), ""), ABOUT(brv_layer_surface(72.0), "%"));
    if (!maker->drawn)
        brv_problem_step(
            maker,
            "The course list answers \"19 ms: little at 100 ms\". The time is right, the \"little\" is not: "
            "it takes d^2/(4 k) for the time of an exponential, which would leave %s.",
            ABOUT(exp(-times), "%"));
}

static void tell_spot(struct brv_problem_maker *maker, double time, double apart)
{
    brv_problem_step(
        maker,
        "Spot: d^2/(16 k) = %s; the next pulse comes after %s times that: from one to the next hardly any "
        "heat goes sideways. Over a longer train, here from about pulse %.2g on, it does, and less adds up "
        "than in the layer alone.",
        SAY(time, "s"), SAY(apart / time, ""), 1.0 + time / apart);
}

brv_status brv_problem_ten_a_second(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    static const char *const name[3] = {"grain", "layer", "spot"}, *const unit[3] = {"us", "ms", "s"};
    static const double kappa[3] = {GRAIN, LAYER, VESSEL}, printed[3] = {0.3, 19.0, 17.0}, digit[3] = {0.05, 0.5, 0.5};
    const double rate = brv_problem_given(maker, 10.0, BRV_CHOICES(2.0, 4.0, 5.0, 8.0));
    const double layer = brv_problem_given(maker, 100e-6, BRV_CHOICES(60e-6, 80e-6, 120e-6));
    const double spot = brv_problem_given(maker, 6e-3, BRV_CHOICES(3e-3, 4e-3, 5e-3, 8e-3));
    const double wide[3] = {1e-6, layer, spot}, apart = 1.0 / rate;
    double time[3];
    brv_problem_ask(
        maker,
        "Pulses come %.0f a second to one place. Does heat add up in a grain of %s (d^2/(27 k))? In an epidermis "
        "of %s (d^2/(4 k)), evenly heated: which share of one pulse's rise is left at its surface, and which on "
        "average, when the next comes? Over a spot of %s (d^2/(16 k))? k = %s.",
        rate, SAY(wide[0], "um"), SAY(wide[1], "um"), SAY(wide[2], "mm"), SAY(BRV_TRADE_DIFFUSIVITY, "m2/s"));
    brv_problem_step(maker, "From pulse to pulse: %s.", SAY(apart, "ms"));
    for (size_t i = 0; i < 3; i++) {
        time[i] = relaxation(kappa[i], wide[i]);
        struct brv_problem_key *key = brv_problem_answer(maker, time[i], unit[i], name[i]);
        brv_problem_printed(maker, key, printed[i], digit[i], "course-problems", "computed");
    }
    tell_grain(maker, time[0], apart);
    tell_layer(maker, time[1], apart);
    tell_spot(maker, time[2], apart);
    brv_problem_answer(maker, brv_layer_surface(apart / time[1]), "%", "left at the surface of the layer");
    brv_problem_answer(maker, brv_layer_mean(apart / time[1]), "%", "left in the layer, mean");
    brv_problem_step(maker, "How warm it gets, no such time tells: `brevis run` with light.count and light.rate does.");
    return BRV_OK;
}
