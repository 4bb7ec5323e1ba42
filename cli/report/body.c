#include "report/body.h"

#include "report/number.h"
#include "report/words.h"

#include <stdio.h>

static double um(double thickness)
{
    return 1e6 * thickness;
}

enum { MEASURED_SIZE = 96 };

/* One layer of a site, or "no site value": "56.6 um (37.7 to 75.5), histology". Returns `out`. */
static const char *measured_text(char out[MEASURED_SIZE], const struct brv_measured *measured)
{
    if (measured->value > 0.0)
        snprintf(out, MEASURED_SIZE, "%.4g um (%.4g to %.4g%s), %s", um(measured->value), um(measured->low),
                 um(measured->high), measured->chosen ? ", chosen" : "", measured->method);
    else
        snprintf(out, MEASURED_SIZE, "no site value");
    return out;
}

const char *brv_body_text(char out[BRV_BODY_SIZE], const struct brv_skin *skin)
{
    out[0] = '\0';
    if (!skin->body) return out;
    const struct brv_body_site *site = &brv_body_sites[skin->body - 1];
    char epidermis[MEASURED_SIZE], horny[MEASURED_SIZE], dermis[MEASURED_SIZE], above[MEASURED_SIZE + 16];
    const bool own = site->epidermis.value > 0.0, deep = site->dermis.value > 0.0;
    snprintf(above, sizeof above, ", horny layer %s", measured_text(horny, &site->horny));
    snprintf(out, BRV_BODY_SIZE, "%s: epidermis %s%s%s; dermis %s%s", site->name,
             measured_text(epidermis, &site->epidermis), own ? "" : " (default 50 + 10 um)",
             site->horny.value > 0.0 ? above : "", measured_text(dermis, &site->dermis),
             deep ? ", on fat" : ", endless");
    return out;
}

const char *brv_film_text(char out[BRV_BODY_SIZE], const struct brv_film_ask *film)
{
    char thickness[BRV_NUMBER_SIZE], absorption[BRV_NUMBER_SIZE];
    out[0] = '\0';
    if (!film->given) return out;
    snprintf(
        out, BRV_BODY_SIZE,
        "%s, %s on the skin: heated first; above 112 C its heat is energy / heat capacity only, and so is what skin "
        "gets of it",
        brv_number_unit(thickness, film->thickness, BRV_LENGTH),
        brv_number_unit(absorption, film->absorption, BRV_PER_LENGTH));
    return out;
}

void brv_body_lines(FILE *to, const struct brv_scenario *ask)
{
    char text[BRV_BODY_SIZE];
    if (*brv_body_text(text, &ask->skin[BRV_NEIGHBOUR])) brv_words_wrap(to, "SITE", text);
    if (*brv_film_text(text, &ask->film)) brv_words_wrap(to, "FILM", text);
}

static void digest_one(struct brv_json *json, const char *name, const struct brv_measured *measured)
{
    const struct brv_spread spread = {measured->value, measured->low, measured->high};
    brv_json_open(json, name, '{');
    if (measured->value > 0.0) {
        brv_json_spread(json, "thickness", &spread, 1.0, 0.0, "m", measured->source);
        brv_json_text(json, "method", measured->method);
        brv_json_text(json, "seen", measured->seen);
        brv_json_flag(json, "low_and_high_chosen", measured->chosen);
    } else {
        brv_json_text(json, "thickness", "no site value");
    }
    brv_json_close(json, '}');
}

void brv_body_digest(struct brv_json *json, const struct brv_skin *skin)
{
    if (!skin->body) return;
    const struct brv_body_site *site = &brv_body_sites[skin->body - 1];
    brv_json_open(json, "site", '{');
    brv_json_text(json, "name", site->name);
    brv_json_text(json, "where", site->where);
    digest_one(json, "epidermis", &site->epidermis);
    digest_one(json, "horny", &site->horny);
    digest_one(json, "dermis", &site->dermis);
    brv_json_text(json, "pigment", "per area as in the skin without a site");
    brv_json_close(json, '}');
}

/* ---- all of them ---- */

static const char site_text[] =
    "skin: {ready: light, site: neck} takes the thicknesses of a body site. Epidermis by histology or microscope "
    "only;\n"
    "ultrasound for a dermis only. No site value: the default stays, 50 + 10 um of epidermis, an endless dermis.\n"
    "Pigment per area stays that of the ready skin, which is what its colour fixes. In brackets 5 to 95 of 100 people\n"
    "or the range over regions; chosen: a third either way, nothing is printed. The method matters more than the\n"
    "site. Of a neck physics has no more to say: fewer appendages and slow healing are not in the model.\n";

static const char *source_of(const struct brv_body_site *site, const char **seen)
{
    const struct brv_measured *measured = site->epidermis.value > 0.0 ? &site->epidermis : &site->dermis;
    *seen = measured->seen;
    return measured->source;
}

static void list_one(FILE *to, const struct brv_body_site *site, bool page)
{
    char epidermis[MEASURED_SIZE], horny[MEASURED_SIZE], dermis[MEASURED_SIZE];
    const char *seen, *source = source_of(site, &seen);
    const bool apart = site->horny.value > 0.0;
    measured_text(epidermis, &site->epidermis);
    measured_text(horny, &site->horny);
    measured_text(dermis, &site->dermis);
    if (page)
        fprintf(to, "| `%s` | %s | %s | %s | %s | %s (%s) |\n", site->name, site->where, epidermis, horny, dermis,
                source, seen);
    else
        fprintf(to, "  %-15s epidermis %s%s%s\n  %-15s dermis    %s; %s (%s)\n", site->name, epidermis,
                apart ? "; horny layer " : "", apart ? horny : "", "", dermis, source, seen);
}

void brv_body_list(FILE *to, bool page)
{
    if (page)
        fprintf(to,
                "\n## Body sites\n\n%s\n| site | where | epidermis | horny layer | dermis | source |\n"
                "| --- | --- | --- | --- | --- | --- |\n",
                site_text);
    else
        fputs("body sites, thickness\n", to);
    for (size_t i = 0; i < BRV_N_BODY_SITE; i++) list_one(to, &brv_body_sites[i], page);
    if (!page) fputs(site_text, to);
}
