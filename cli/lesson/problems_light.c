/* Problems about energy, spot, fluence and power. */
#include "lesson/problems.h"

#include "base/constants.h"
#include "scenario/beam.h"
#include "scenario/pulse.h"
#include "side/output.h"

#include <math.h>
#include <stdio.h>

#define SAY(value, unit)   brv_problem_say(maker, value, unit)
#define ABOUT(value, unit) brv_problem_about(maker, value, unit)

static double area_of(double spot)
{
    const struct brv_beam beam = {.spot = spot};
    return brv_beam_area(&beam);
}

static double fluence_of(double energy, double spot)
{
    const struct brv_meter_reading reading = {.energy = energy, .spot = spot};
    return brv_meter_reading_fluence(&reading, spot);
}

/* No fluence without how sure it can be. */
static void tell_error(struct brv_problem_maker *maker, double fluence)
{
    const double error = brv_output_together(BRV_OUTPUT_METER_ERROR, BRV_OUTPUT_SPOT_ERROR);
    brv_problem_step(maker,
                     "How sure: with a meter good to %s and a width good to %s it is known to about %s only "
                     "(problem 26): %s to %s.",
                     SAY(BRV_OUTPUT_METER_ERROR, "%"), SAY(BRV_OUTPUT_SPOT_ERROR, "%"), ABOUT(error, "%"),
                     ABOUT(fluence * (1.0 - error), "J/cm2"), ABOUT(fluence * (1.0 + error), "J/cm2"));
}

static struct brv_problem_key *ask_fluence(struct brv_problem_maker *maker, double energy, double spot)
{
    const double fluence = fluence_of(energy, spot);
    brv_problem_ask(maker,
                    "A pulse of %s comes through a flat round spot %s in diameter. Which fluence lies on the skin, in "
                    "J/cm2?",
                    SAY(energy, "J"), SAY(spot, "mm"));
    brv_problem_step(maker, "Area of the spot: pi D^2/4 = %s.", SAY(area_of(spot), "cm2"));
    brv_problem_step(maker, "Fluence is energy over area: %s / %s = %s.", SAY(energy, "J"), SAY(area_of(spot), "cm2"),
                     SAY(fluence, "J/cm2"));
    tell_error(maker, fluence);
    return brv_problem_answer(maker, fluence, "J/cm2", "fluence");
}

brv_status brv_problem_wide_spot(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double energy = brv_problem_given(maker, 0.4, BRV_CHOICES(0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.7));
    const double spot = brv_problem_given(maker, 6e-3, BRV_CHOICES(5e-3, 6e-3, 7e-3, 8e-3, 9e-3));
    struct brv_problem_key *key = ask_fluence(maker, energy, spot);
    brv_problem_printed(maker, key, 1.42, 6e-3, "course-problems", "seen"); /* by a multiplier rounded before */
    return BRV_OK;
}

brv_status brv_problem_narrow_spot(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double energy = brv_problem_given(maker, 0.8, BRV_CHOICES(0.05, 0.08, 0.1, 0.15, 0.2, 0.25));
    const double spot = brv_problem_given(maker, 4e-3, BRV_CHOICES(2e-3, 2.5e-3, 3e-3, 3.5e-3, 4e-3));
    struct brv_problem_key *key = ask_fluence(maker, energy, spot);
    brv_problem_printed(maker, key, 6.4, 0.05, "course-problems", "seen");
    return BRV_OK;
}

/* ---- a printed table with a slip ---- */

enum { N_SPOT = 8, SLIPPED = 5 /* the row of 6 mm */ };

static void answer_multipliers(struct brv_problem_maker *maker, double first, double step)
{
    static const double printed[N_SPOT] = {127.0, 32.0, 14.0, 8.0, 5.0, 3.5, 2.6, 2.0};
    static const double digit[N_SPOT] = {0.5, 0.5, 0.5, 0.5, 0.5, 0.05, 0.05, 0.5};
    char quantity[BRV_PROBLEM_QUANTITY];
    for (size_t i = 0; i < N_SPOT; i++) {
        const double spot = first + (double)i * step;
        snprintf(quantity, sizeof quantity, "multiplier of %s", SAY(spot, "mm"));
        struct brv_problem_key *key = brv_problem_answer(maker, fluence_of(1.0, spot), "/cm2", quantity);
        brv_problem_printed(maker, key, printed[i], digit[i], "course-problems", "seen");
    }
}

/* The book lists one number for 6 mm and reckons with another. */
static void tell_slip(struct brv_problem_maker *maker)
{
    const double used = 3.6, spot = sqrt(4.0 / (BRV_PI * used * 1e4));
    const struct brv_problem_key *listed = &maker->problem->key[SLIPPED];
    struct brv_problem_key *key = brv_problem_answer(maker, listed->value, "/cm2", "multiplier of 6 mm, as used later");
    brv_problem_printed(maker, key, used, 0.05, "course-problems", "seen");
    key->slip = true;
    brv_problem_step(
        maker,
        "Spot the slip: one textbook lists %.2g for 6 mm and then reckons with %.2g. The number is %s, so the "
        "list is right and the reckoning %s too high; %.2g belongs to a spot of %s.",
        listed->printed, used, SAY(listed->value, "/cm2"), SAY(used * 1e4 / listed->value - 1.0, "%"), used,
        SAY(spot, "mm"));
}

brv_status brv_problem_multipliers(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double first = brv_problem_given(maker, 1e-3, BRV_CHOICES(1.5e-3, 2e-3, 2.5e-3, 3e-3));
    const double step = brv_problem_given(maker, 1e-3, BRV_CHOICES(0.5e-3, 1e-3, 1.5e-3));
    brv_problem_ask(
        maker,
        "Energy in J times a number gives fluence in J/cm2. Make a table of that number for spots of %s to %s "
        "in steps of %s.%s",
        SAY(first, "mm"), SAY(first + (N_SPOT - 1) * step, "mm"), SAY(step, "mm"),
        maker->drawn ? "" : " One textbook lists 3.5 for 6 mm and reckons with 3.6 later on: which is right?");
    answer_multipliers(maker, first, step);
    brv_problem_step(maker, "The number is 1 over the area, 4/(pi D^2), D in cm: %s for %s.",
                     SAY(maker->problem->key[0].value, "/cm2"), SAY(first, "mm"));
    brv_problem_step(maker, "It falls with the square of the width: %s for %s.",
                     SAY(maker->problem->key[N_SPOT - 1].value, "/cm2"), SAY(first + (N_SPOT - 1) * step, "mm"));
    if (!maker->drawn) tell_slip(maker);
    return BRV_OK;
}

/* ---- what changes ---- */

brv_status brv_problem_halved_spot(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double wide = brv_problem_given(maker, 8e-3, BRV_CHOICES(6e-3, 7e-3, 8e-3, 9e-3, 10e-3));
    const double narrow = brv_problem_given(maker, 4e-3, BRV_CHOICES(2e-3, 3e-3, 4e-3, 5e-3));
    const double factor = fluence_of(1.0, narrow) / fluence_of(1.0, wide);
    brv_problem_ask(
        maker,
        "The energy of the pulse stays, but the spot is turned from %s to %s. By which factor does the fluence "
        "change?",
        SAY(wide, "mm"), SAY(narrow, "mm"));
    brv_problem_step(maker, "Areas: %s and %s.", SAY(area_of(wide), "cm2"), SAY(area_of(narrow), "cm2"));
    brv_problem_step(maker, "The same energy on the smaller area: %s times the fluence, the square of %s.",
                     SAY(factor, ""), SAY(wide / narrow, ""));
    struct brv_problem_key *key = brv_problem_answer(maker, factor, "", "factor of the fluence");
    brv_problem_printed(maker, key, 4.0, 1e-9, "course-problems", "computed");
    return BRV_OK;
}

brv_status brv_problem_attenuated(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double surface = brv_problem_given(maker, 5e4, BRV_CHOICES(4e4, 5e4, 6e4));
    const double target = brv_problem_given(maker, 2e4, BRV_CHOICES(1e4, 1.5e4, 2e4, 2.5e4));
    const double needed = brv_problem_given(maker, 3e4, BRV_CHOICES(2.75e4, 3e4, 3.5e4));
    const double share = target / surface;
    brv_problem_ask(
        maker,
        "In an exercise, of %s at the surface %s is left at the target, which needs %s. Is that enough? If the "
        "share that gets there stays, which fluence at the surface would it take?",
        SAY(surface, "J/cm2"), SAY(target, "J/cm2"), SAY(needed, "J/cm2"));
    brv_problem_step(maker, "%s is %s %s: %s.", SAY(target, "J/cm2"), target < needed ? "less than" : "not less than",
                     SAY(needed, "J/cm2"), target < needed ? "not enough" : "enough");
    brv_problem_step(maker, "Share that gets there: %s. Light is linear, so the share holds for every fluence.",
                     SAY(share, "%"));
    brv_problem_step(maker, "At the surface: %s / %s = %s.", SAY(needed, "J/cm2"), SAY(share, "%"),
                     SAY(needed / share, "J/cm2"));
    brv_problem_step(maker,
                     "What lies above the target gets more as well: the layer with most pigment %s times as much.",
                     SAY(needed / target, ""));
    struct brv_problem_key *key = brv_problem_answer(maker, needed / share, "J/cm2", "fluence at the surface");
    brv_problem_printed(maker, key, 7.5, 0.05, "course-problems", "seen");
    return BRV_OK;
}

/* ---- power ---- */

/* Mean over a pulse of this length: what has arrived between its ends, over the time. */
static double power_of(double energy, double width)
{
    const struct brv_pulse pulse = {.shape = BRV_SHAPE_SQUARE, .width = width, .count = 1.0, .passes = 1.0};
    const double arrived = brv_pulse_delivered(&pulse, 0.75 * width) - brv_pulse_delivered(&pulse, 0.25 * width);
    return energy * arrived / (0.5 * width);
}

/* The same energy as a gaussian of that width at half its height: its peak over the mean. */
static double gaussian_peak(void)
{
    const struct brv_pulse pulse = {.shape = BRV_SHAPE_GAUSSIAN, .width = 1.0, .count = 1.0, .passes = 1.0};
    const double near = 1e-4, centre = brv_pulse_centre(&pulse);
    return (brv_pulse_delivered(&pulse, centre + near) - brv_pulse_delivered(&pulse, centre - near)) / (2.0 * near);
}

brv_status brv_problem_power(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double energy = brv_problem_given(maker, 0.5, BRV_CHOICES(0.2, 0.25, 0.4, 0.5, 0.8, 1.0));
    const double fluence = brv_problem_given(maker, 2e4, BRV_CHOICES(1e4, 1.5e4, 2e4, 3e4));
    const double width = brv_problem_given(maker, 10e-9, BRV_CHOICES(4e-9, 5e-9, 8e-9, 10e-9, 20e-9));
    const double power = power_of(energy, width), irradiance = power_of(fluence, width);
    brv_problem_ask(maker,
                    "A pulse of %s lasts %s and puts %s on the skin. Which power has it while it lasts, and which "
                    "irradiance, in W/cm2?",
                    SAY(energy, "J"), SAY(width, "ns"), SAY(fluence, "J/cm2"));
    brv_problem_step(maker, "Power is energy over time: %s / %s = %s.", SAY(energy, "J"), SAY(width, "ns"),
                     SAY(power, "MW"));
    brv_problem_step(maker, "Irradiance is fluence over time: %s / %s = %s.", SAY(fluence, "J/cm2"), SAY(width, "ns"),
                     SAY(irradiance, "W/cm2"));
    brv_problem_step(maker, "For an even pulse. A bell-shaped one of that width at half its height peaks at %s of it.",
                     SAY(gaussian_peak(), "%"));
    struct brv_problem_key *key = brv_problem_answer(maker, power, "MW", "power");
    brv_problem_printed(maker, key, 50.0, 1e-6, "course-problems", "computed");
    key = brv_problem_answer(maker, irradiance, "W/cm2", "irradiance");
    brv_problem_printed(maker, key, 2e8, 10.0, "course-problems", "computed");
    return BRV_OK;
}

/* ---- a course of pulses ---- */

brv_status brv_problem_half_face(struct brv_problem_maker *maker, struct brv_error *error)
{
    (void)error;
    const double pulses = brv_problem_given(maker, 1200.0, BRV_CHOICES(600.0, 800.0, 1000.0, 1500.0));
    const double spot = brv_problem_given(maker, 7e-3, BRV_CHOICES(5e-3, 6e-3, 8e-3));
    const double fluence = brv_problem_given(maker, 1.6e4, BRV_CHOICES(1.2e4, 1.4e4, 2e4, 2.5e4));
    const double energy = fluence / fluence_of(1.0, spot), summed = pulses * area_of(spot);
    brv_problem_ask(
        maker,
        "%s: %.0f pulses of %s through spots of %s on one half of a face. Which energy has one pulse? What do "
        "the areas of all spots add up to?",
        maker->drawn ? "In an exercise" : "As one paper reports", pulses, SAY(fluence, "J/cm2"), SAY(spot, "mm"));
    brv_problem_step(maker, "Energy is fluence times area: %s x %s = %s.", SAY(fluence, "J/cm2"),
                     SAY(area_of(spot), "cm2"), SAY(energy, "J"));
    brv_problem_step(maker, "%.0f x %s = %s. How often a place was hit follows once the area of the skin is known.",
                     pulses, SAY(area_of(spot), "cm2"), SAY(summed, "cm2"));
    if (!maker->drawn)
        brv_problem_step(maker, "The numbers are those of [one-face-1064] (abstract): reported, not advice.");
    struct brv_problem_key *key = brv_problem_answer(maker, energy, "J", "energy of a pulse");
    brv_problem_printed(maker, key, 0.616, 5e-4, "course-problems", "computed");
    key = brv_problem_answer(maker, summed, "cm2", "summed area of the spots");
    brv_problem_printed(maker, key, 462.0, 0.5, "course-problems", "computed");
    return BRV_OK;
}
