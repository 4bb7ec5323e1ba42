#include "report/setting.h"

#include "base/constants.h"
#include "report/asked.h"
#include "report/body.h"
#include "report/difference.h"
#include "report/number.h"
#include "report/page.h"
#include "report/words.h"
#include "scenario/film.h"
#include "scenario/keys.h"
#include "tissue/chromophore.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

enum { ENTRY_SIZE = 1600 };

/* ---- light ---- */

static void put_light(FILE *to, const struct brv_scenario *ask)
{
    static const char *const way[] = {[BRV_METHOD_SPOT] = "the light of this spot, on its axis",
                                      [BRV_METHOD_LAYERED] = "the light of an endless beam",
                                      [BRV_METHOD_SAMPLED] = "the light of this spot, by a walk of photons"};
    const bool gaussian = ask->beam.profile == BRV_PROFILE_GAUSSIAN;
    char text[ENTRY_SIZE] = "", number[BRV_NUMBER_SIZE], train[BRV_ASKED_SIZE];
    brv_words_append(text, ENTRY_SIZE, "%.4g nm; %s", 1e9 * ask->beam.wavelength, way[ask->beam.method]);
    brv_page_entry(to, "Wavelength", text);

    text[0] = '\0';
    brv_words_append(text, ENTRY_SIZE, "%s, %s", brv_number_printed(number, ask->pulse.width, BRV_TIME),
                     ask->pulse.shape == BRV_SHAPE_SQUARE ? "square" : "gaussian, full width at half maximum");
    brv_page_entry(to, "Pulse", text);

    text[0] = '\0';
    if (*brv_asked_train(train, &ask->pulse))
        brv_words_append(
            text, ENTRY_SIZE, "%s; %s in all", train,
            brv_number_printed(number, ask->beam.fluence * (double)brv_pulse_total(&ask->pulse), BRV_FLUENCE));
    else
        brv_words_append(text, ENTRY_SIZE, "one pulse");
    brv_page_entry(to, "Count", text);

    text[0] = '\0';
    brv_words_append(text, ENTRY_SIZE, "%s, %s", brv_number_printed(number, ask->beam.spot, BRV_LENGTH),
                     gaussian ? "gaussian, 1/e² diameter" : "flat");
    brv_page_entry(to, "Spot", text);

    text[0] = '\0';
    brv_words_append(text, ENTRY_SIZE, "%s", brv_number_printed(number, ask->beam.fluence, BRV_FLUENCE));
    brv_words_append(text, ENTRY_SIZE, " = %s", brv_number_printed(number, ask->beam.energy, BRV_ENERGY));
    if (brv_pulse_total(&ask->pulse) > 1) brv_words_append(text, ENTRY_SIZE, " in every pulse");
    if (gaussian)
        brv_words_append(text, ENTRY_SIZE, "; on the axis %s",
                         brv_number_printed(number, brv_beam_axis_fluence(&ask->beam), BRV_FLUENCE));
    brv_page_entry(to, "Fluence, energy", text);
}

/* ---- skin ---- */

static void add_layer(char text[ENTRY_SIZE], const struct brv_layer_ask *layer, const char *name)
{
    char number[BRV_NUMBER_SIZE];
    brv_words_append(text, ENTRY_SIZE, "%s %s", name,
                     isinf(layer->thickness) ? "endless" : brv_number_printed(number, layer->thickness, BRV_LENGTH));
    if (layer->melanosomes > 0.0)
        brv_words_append(text, ENTRY_SIZE, " with %s %% pigment grains",
                         brv_number_short(number, 100.0 * layer->melanosomes));
    if (brv_key_given(layer, BRV_SCOPE_LAYER, "absorption"))
        brv_words_append(text, ENTRY_SIZE, ", absorption %s as given",
                         brv_number_printed(number, layer->absorption, BRV_PER_LENGTH));
}

static void put_skin(FILE *to, const struct brv_request *request)
{
    const struct brv_skin *skin = &request->scenario.skin[BRV_NEIGHBOUR];
    char text[ENTRY_SIZE] = "", colour[BRV_ASKED_SIZE];
    if (skin->ready) brv_words_append(text, ENTRY_SIZE, "ready skin %s: ", brv_ready_skins[skin->ready - 1].name);
    for (size_t i = brv_film_covers(skin); i < skin->n_layer; i++) {
        if (i > (size_t)brv_film_covers(skin)) brv_words_append(text, ENTRY_SIZE, "; ");
        add_layer(text, &skin->layer[i], request->layer_name[i]);
    }
    brv_page_entry(to, "Skin", text);
    brv_page_entry(to, "Measured colour", brv_asked_colour(colour, &request->scenario));
    brv_page_entry(to, "Colour made", brv_asked_made_colour(colour, &request->scenario));
}

static bool same(double one, double other)
{
    return !(fabs(one - other) > 0.0);
}

/* "6 %", "0.3 µm"; what nobody gave is the usual. Only numbers are put into the letters of print: words keep theirs. */
static const char *told(char out[BRV_NUMBER_SIZE], const struct brv_key *key, const char text[BRV_ALLOWED_SIZE],
                        bool given)
{
    const bool number = key->kind == BRV_QUANTITY || key->kind == BRV_EXTENT || key->kind == BRV_NUMBER;
    snprintf(out, BRV_NUMBER_SIZE, "%.40s", given ? text : "as usual");
    return given && number ? brv_number_print(out) : out;
}

/* "thickness of epidermis 100 µm, 50 µm in the skin around it; darkness of grains 3, 1 in the skin around it" */
static void add_differences(char text[ENTRY_SIZE], const struct brv_request *request)
{
    struct brv_difference difference = {.owner = NULL};
    char here[BRV_NUMBER_SIZE], there[BRV_NUMBER_SIZE], words[40];
    while (brv_difference_next(&difference, request)) {
        snprintf(words, sizeof words, "%s", difference.key->name);
        for (char *c = words; *c; c++)
            if (*c == '_') *c = ' ';
        brv_words_append(text, ENTRY_SIZE, "%s%s of %s %s, %s in the skin around it", *text ? "; " : "", words,
                         difference.of_grain ? "grains" : difference.owner,
                         told(here, difference.key, difference.here, difference.here_given),
                         told(there, difference.key, difference.there, difference.there_given));
    }
}

static void put_lesion(FILE *to, const struct brv_request *request)
{
    char text[ENTRY_SIZE] = "";
    add_differences(text, request);
    if (!*text)
        brv_words_append(text, ENTRY_SIZE, "no darker than the skin around it: lesion and neighbour are the same");
    if (!request->scenario.lesion_given)
        brv_words_append(text, ENTRY_SIZE,
                         " (no lesion was described: taken as 2.5 times the basal pigment, 60 %% at most)");
    brv_page_entry(to, "Lesion", text);
}

/* "0.3 µm across, in basal, 3 times as dark as published" */
static void tell_grain(char text[ENTRY_SIZE], const struct brv_request *request, enum brv_site_index site)
{
    const struct brv_grain_ask *grain = &request->scenario.skin[site].grain;
    const double wavelength = request->scenario.beam.wavelength;
    char number[BRV_NUMBER_SIZE], times[BRV_NUMBER_SIZE];
    brv_words_append(text, ENTRY_SIZE, "%s across", brv_number_printed(number, grain->diameter, BRV_LENGTH));
    if (grain->layer >= 0)
        brv_words_append(text, ENTRY_SIZE, ", in %s", request->layer_name[grain->layer]);
    else
        brv_words_append(text, ENTRY_SIZE, ", in the layer with the densest pigment");
    if (brv_key_given(grain, BRV_SCOPE_GRAIN, "absorption"))
        brv_words_append(text, ENTRY_SIZE, ", absorption %s as given, %s times what is published at this wavelength",
                         brv_number_printed(number, grain->absorption, BRV_PER_LENGTH),
                         brv_number_short(times, grain->absorption / brv_chromophore_melanosome(wavelength, 1.0)));
    else if (!same(grain->darkness, 1.0))
        brv_words_append(text, ENTRY_SIZE, ", %s times as dark as published",
                         brv_number_short(number, grain->darkness));
}

/* Both skins' where they differ. */
static void put_grain(FILE *to, const struct brv_request *request)
{
    const struct brv_watch *watch = &request->scenario.watch;
    char text[ENTRY_SIZE] = "", lesion[ENTRY_SIZE] = "", neighbour[ENTRY_SIZE] = "", number[BRV_NUMBER_SIZE];
    tell_grain(lesion, request, BRV_LESION);
    tell_grain(neighbour, request, BRV_NEIGHBOUR);
    if (strcmp(lesion, neighbour))
        brv_words_append(text, ENTRY_SIZE, "in the lesion %s; in the skin around it %s", lesion, neighbour);
    else
        brv_words_append(text, ENTRY_SIZE, "%s", lesion);
    brv_words_append(text, ENTRY_SIZE, "; counted as disrupted at %s °C, %s",
                     brv_number_short(number, watch->criterion - BRV_ZERO_C),
                     brv_key_word(BRV_SCOPE_WATCH, "place", watch->place));
    brv_page_entry(to, "Pigment grain", text);
}

/* ---- around it ---- */

static void put_surface(FILE *to, const struct brv_scenario *ask)
{
    char text[ENTRY_SIZE] = "", outside[BRV_ASKED_SIZE], number[BRV_NUMBER_SIZE], site[BRV_BODY_SIZE];
    brv_page_entry(to, "Body site", brv_body_text(site, &ask->skin[BRV_NEIGHBOUR]));
    brv_words_append(text, ENTRY_SIZE, "the pulses meet %s; skin %s °C at its surface", brv_asked_meets(outside, ask),
                     brv_number_short(number, ask->surface.temperature - BRV_ZERO_C));
    brv_words_append(text, ENTRY_SIZE, ", %s °C in the depth",
                     brv_number_short(number, ask->surface.core - BRV_ZERO_C));
    brv_page_entry(to, "Surface", text);
    brv_page_entry(to, "On the skin", brv_asked_cover(outside, ask));
    brv_page_entry(to, "Film", brv_film_text(site, &ask->film));
    text[0] = '\0';
    brv_words_append(text, ENTRY_SIZE, "%s after the first pulse began",
                     brv_number_printed(number, ask->watch.until, BRV_TIME));
    brv_page_entry(to, "Followed until", text);
}

void brv_setting_put(FILE *to, const struct brv_request *request)
{
    fputs("<dl>\n", to);
    put_light(to, &request->scenario);
    put_skin(to, request);
    put_lesion(to, request);
    put_grain(to, request);
    put_surface(to, &request->scenario);
    fputs("</dl>\n", to);
}
