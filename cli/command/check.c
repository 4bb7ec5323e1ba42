/* `brevis check`: is a scenario sound, and what did the program understand. */
#include "command/command.h"
#include "command/options.h"
#include "report/asked.h"
#include "report/body.h"
#include "report/difference.h"
#include "report/number.h"
#include "scenario/allowed.h"
#include "scenario/choices.h"
#include "scenario/letters.h"
#include "scenario/unit.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- the digest: what was understood, with what was filled in ---- */

static const char *value_of(char out[BRV_ALLOWED_SIZE], enum brv_scope scope, const char *name, double value)
{
    return brv_allowed_value(out, &brv_keys[brv_key_find(scope, name)], value);
}

static void print_light(const struct brv_scenario *ask)
{
    char wavelength[BRV_ALLOWED_SIZE], pulse[BRV_ALLOWED_SIZE], shape[BRV_ALLOWED_SIZE], spot[BRV_ALLOWED_SIZE],
        profile[BRV_ALLOWED_SIZE], fluence[BRV_ALLOWED_SIZE], energy[BRV_ALLOWED_SIZE];
    printf("  light   %s, %s %s pulse, %s %s spot, %s (%s)\n",
           value_of(wavelength, BRV_SCOPE_LIGHT, "wavelength", ask->beam.wavelength),
           value_of(pulse, BRV_SCOPE_PULSE, "pulse", ask->pulse.width),
           value_of(shape, BRV_SCOPE_PULSE, "shape", ask->pulse.shape),
           value_of(spot, BRV_SCOPE_LIGHT, "spot", ask->beam.spot),
           value_of(profile, BRV_SCOPE_LIGHT, "profile", ask->beam.profile),
           value_of(fluence, BRV_SCOPE_LIGHT, "fluence", ask->beam.fluence),
           value_of(energy, BRV_SCOPE_LIGHT, "energy", ask->beam.energy));
}

static void print_layers(const struct brv_request *request)
{
    const struct brv_skin *skin = &request->scenario.skin[BRV_NEIGHBOUR];
    char thickness[BRV_ALLOWED_SIZE], site[BRV_BODY_SIZE];
    fputs("  layers  ", stdout);
    for (size_t i = 0; i < skin->n_layer; i++)
        printf("%s%s %s", i ? ", " : "", request->layer_name[i],
               value_of(thickness, BRV_SCOPE_LAYER, "thickness", skin->layer[i].thickness));
    putchar('\n');
    if (*brv_body_text(site, skin)) printf("  site    %s\n", site);
}

static void print_colour(const struct brv_scenario *ask)
{
    char text[BRV_ASKED_SIZE];
    if (*brv_asked_colour(text, ask)) printf("  colour  %s\n", text);
    if (*brv_asked_made_colour(text, ask)) printf("          %s\n", text);
}

static void print_lesion(const struct brv_request *request)
{
    struct brv_difference difference = {.owner = NULL};
    size_t n = 0;
    fputs("  lesion  ", stdout);
    while (brv_difference_next(&difference, request)) /* "basal melanosomes 6 % -> 14 %" */
        printf("%s%s %s %s -> %s", n++ ? ", " : "", difference.owner, difference.key->name, difference.there,
               difference.here);
    if (n == 0) fputs("as the skin around it", stdout);
    if (request->scenario.lesion_given)
        putchar('\n');
    else
        puts(n ? " (none described: 2.5 times the pigment of a basal row, 60 % at most)"
               : " (none described, and no basal row can be darker)");
}

static void print_repeated(const struct brv_scenario *ask)
{
    char text[BRV_ASKED_SIZE];
    if (*brv_asked_train(text, &ask->pulse)) printf("  train   %s\n", text);
    if (*brv_asked_cover(text, ask)) printf("  cover   %s\n", text);
}

static void print_watch(const struct brv_watch *watch)
{
    char depth[BRV_UNIT_VALUE_SIZE], until[BRV_UNIT_VALUE_SIZE];
    fputs("  watch   ", stdout);
    for (size_t i = 0; i < watch->n_depth; i++) {
        const struct brv_unit *unit = brv_unit_find(watch->depth[i] < 1e-3 ? "um" : "mm");
        printf("%s%s", i ? ", " : "", brv_unit_value(depth, watch->depth[i], unit));
    }
    printf(" deep, until %s\n", brv_unit_value(until, watch->until, brv_unit_best(watch->until, BRV_TIME)));
}

/* The largest share of pigment in any layer whose composition counts at both sites. */
static double most_pigment(const struct brv_scenario *ask, enum brv_site_index site)
{
    double most = 0.0;
    for (size_t i = 0; i < ask->skin[site].n_layer; i++) {
        const bool replaced_here = brv_key_given(&ask->skin[BRV_LESION].layer[i], BRV_SCOPE_LAYER, "absorption");
        const bool replaced_there = brv_key_given(&ask->skin[BRV_NEIGHBOUR].layer[i], BRV_SCOPE_LAYER, "absorption");
        if (!replaced_here && !replaced_there) most = fmax(most, ask->skin[site].layer[i].melanosomes);
    }
    return most;
}

/* The scenario itself, whichever of its choices that is. */
static const struct brv_request *itself(const struct brv_choices *choices)
{
    for (size_t i = 0; i < choices->n; i++)
        if (!*choices->choice[i].changes) return &choices->choice[i].request;
    return &choices->choice[0].request;
}

static void print_choices(const struct brv_choices *choices)
{
    if (choices->n < 2) return;
    fputs("  choices ", stdout);
    for (size_t i = 0; i < choices->n; i++) printf("%s%s", i ? "; " : "", choices->choice[i].name);
    puts(" (`brevis compare` sets them side by side)");
}

static void print_ladder(const struct brv_test_spots_ask *ladder)
{
    char fluence[BRV_NUMBER_SIZE];
    if (!ladder->given) return;
    fputs("  ladder ", stdout);
    for (size_t k = 0; k < (size_t)ladder->count; k++)
        printf("%s %s", k ? "," : "", brv_number_unit(fluence, brv_test_spot_fluence(ladder, k), BRV_FLUENCE));
    puts(" (`brevis ladder`, in place of light.fluence)");
}

static void print_digest(const char *path, const struct brv_choices *choices)
{
    const struct brv_request *request = itself(choices);
    brv_letters_tell(stdout, path);
    puts(": sound");
    printf("  title   %s\n", *request->title ? request->title : "(none)");
    print_light(&request->scenario);
    print_repeated(&request->scenario);
    print_layers(request);
    print_colour(&request->scenario);
    print_lesion(request);
    print_watch(&request->scenario.watch);
    print_ladder(&request->scenario.ladder);
    print_choices(choices);
    if (most_pigment(&request->scenario, BRV_LESION) < most_pigment(&request->scenario, BRV_NEIGHBOUR))
        puts("  note: the lesion has less pigment than the skin around it");
    puts("  A sound file is a readable one; it says nothing about a person.");
}

/* ---- the command ---- */

static int check_one(const char *path, const struct brv_options *options)
{
    struct brv_choices choices = {.n = 0};
    struct brv_faults faults = {0};
    const int code = brv_choices_read(&choices, path, options->set, options->n_set, &faults);
    brv_faults_print(&faults, stderr);
    if (!code && !(options->given & BRV_OPTION_QUIET)) print_digest(path, &choices);
    brv_choices_free(&choices);
    brv_faults_free(&faults);
    return code;
}

/* All files are looked at; the exit code is that of the first one that is not sound, unless one could not be judged for want
 * of memory.                                                                                                       */
int brv_command_check(int argc, char *argv[])
{
    struct brv_options options;
    const int stop =
        brv_options_read(&options, argc, argv, BRV_CHECK_OPTIONS, 1, argc, "a scenario file, or - for standard input");
    if (stop >= 0) return stop;

    int code = BRV_EXIT_DONE;
    for (int i = 0; i < options.n_word; i++) {
        const int one = check_one(options.word[i], &options);
        if (!code || one == BRV_EXIT_MEMORY) code = one;
    }
    return code;
}
