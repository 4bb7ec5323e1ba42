#include "report/cite.h"

#include "effect/damage.h"
#include "effect/threshold.h"
#include "scenario/body.h"
#include "scenario/film.h"
#include "scenario/keys.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

/* clang-format off */
const struct brv_citation brv_citations[] = {
    {"burn-refit", "A. C. Diller, J. A. Pearce and others: the data of 1947 fitted anew, 8.82e94 / 6.03e5 up to 53 C and 1.297e31 / 2.04e5 above"},
    {"burn-standards", "The rates of damage of the burn standards"},
    {"chardon-1991", "A. Chardon, I. Cretois and C. Hourseau, Skin colour typology and suntanning pathways, Int. J. Cosmet. Sci. 13, 191 (1991)"},
    {"chopra-2015", "K. Chopra et al., A comprehensive examination of topographic thickness of skin in the human face, Aesthet. Surg. J. 35, 1007 (2015), doi 10.1093/asj/sjv079"},
    {"core-temperature", "Temperature of the blood and of the depth of the body, 36.5 to 37.5 C; 37 C is used"},
    {"epidermis-thickness", "Sandby-Moller et al., Acta Derm. Venereol. 83, 410 (2003), doi 10.1080/00015550310015419; Tsugita et al., Skin Res. Technol. 19, 242 (2013); Xu et al., J. Am. Acad. Dermatol. 77, 1133 (2017)"},
    {"eyelid-thickness", "Ultrasound of facial skin, BMC Med. Imaging 22, 113 (2022), doi 10.1186/s12880-022-00839-w"},
    {"gel-index", "Index of a water-like gel, 1.34 (1.33 to 1.38)"},
    {"grain-thermal", "Thompson et al., Bull. Math. Biol. 58, 513 (1996), a thermal model of melanosomes"},
    {"henriques-1947", "F. C. Henriques, Arch. Pathol. 43, 489 (1947): 3.1e98 and 6.28e5"},
    {"hruza-1991", "G. J. Hruza et al., Arch. Dermatol. 127, 1799 (1991), doi 10.1001/archderm.1991.04520010045005"},
    {"jacques-1998", "S. L. Jacques, Melanosome absorption coefficient, web page, omlc.org/spectra/melanin/mua.html (July 1998)"},
    {"jacques-2008", "S. L. Jacques, web page on the penetration of light, omlc.org/news/jun08/penetration (June 2008)"},
    {"jacques-2013", "S. L. Jacques, Optical properties of biological tissues: a review, Phys. Med. Biol. 58, R37 (2013), doi 10.1088/0031-9155/58/11/R37"},
    {"jacques-baseline", "S. L. Jacques, web page on skin optics, omlc.org (January 1998): absorption of skin without pigment and blood"},
    {"jacques-mcauliffe-1991", "S. L. Jacques and D. J. McAuliffe, The melanosome: threshold temperature for explosive vaporization and internal absorption coefficient during pulsed laser irradiation, Photochem. Photobiol. 53, 769 (1991)"},
    {"melanin-fraction", "Ranges of the pigment's volume share in the epidermis: light skin 1.3-6.3 %, moderately pigmented 11-16 %, darkly pigmented 18-43 %, after S. L. Jacques, web page on skin optics (January 1998)"},
    {"melanosome-size", "Thong et al., Br. J. Dermatol. 149, 498 (2003), doi 10.1046/j.1365-2133.2003.05473.x"},
    {"negishi-2013", "K. Negishi et al., J. Eur. Acad. Dermatol. Venereol. (2013), doi 10.1111/j.1468-3083.2011.04385.x: lentigines treated to slight or to very obvious whitening, 694 and 532 nm"},
    {"neumann-brinkmann", "J. Neumann and R. Brinkmann, J. Appl. Phys. 101, 114701 (2007), doi 10.1063/1.2740348: mean temperature at which bubbles form at melanosomes of the retinal pigment epithelium, 136 C"},
    {"oily-film", "Conductivity 0.16 (0.12 to 0.25) W/m/K, density 900 (800 to 1300) kg/m3, heat capacity 2000 (1600 to 2400) J/kg/K, index up to 1.50: of oils and ointments, wide enough for pigment in them"},
    {"photoacoustic", "Speed of sound in tissue, 1500 m/s (1450 to 1580), and the time d / c"},
    {"plate-index", "Index of sapphire in visible and near-infrared light, 1.75 to 1.77; 1.76 is taken for a plate"},
    {"prahl-1998", "S. Prahl, Optical absorption of hemoglobin, web compilation (1998) of data by W. B. Gratzer and N. Kollias, omlc.org/spectra/hemoglobin"},
    {"relaxation-kappa", "The kappas of nine definitions of a relaxation time"},
    {"rottgers-2016", "R. Roettgers, compilation of the absorption of pure water, version 3 (November 2016), from several papers"},
    {"sandby-moller-2003", "J. Sandby-Moller, T. Poulsen, H. C. Wulf, Epidermal thickness at different body sites, Acta Derm. Venereol. 83, 410 (2003), doi 10.1080/00015550310015419"},
    {"selcuk-thickness", "Thickness of epidermis and dermis in six regions of the face, Selcuk Medical Journal; 90 women and 90 men, light microscope"},
    {"skin-anisotropy", "Values of g between 0.75 and 0.92: Jacques, Alter, Prahl, Lasers Life Sci. 1, 309 (1987); van Gemert et al., IEEE Trans. Biomed. Eng. 36, 1146 (1989); S. A. Prahl, thesis (1988)"},
    {"skin-index", "Second-hand summary of Ding et al., Phys. Med. Biol. 51, 1479 (2006), doi 10.1088/0031-9155/51/6/008: epidermis 1.41 to 1.49, dermis 1.36 to 1.41"},
    {"skin-physiology", "Water 65 % in living layers, 20 % in the horny layer and in fat; blood 70 % saturated"},
    {"skin-temperature", "Temperature of resting skin, 32 to 34 C; 33 C is used"},
    {"surface-coefficients", "Surface heat exchange, from text-books: heat that skin passes to what lies on it, per area and kelvin"},
    {"thermal-properties", "Ye and De, Burns 43, 909 (2017), doi 10.1016/j.burns.2016.11.014, a review with tables"},
    {"tissue-database", "Hasgall et al., database of tissue properties; McIntosh and Anderson, Biophys. Rev. Lett. 5, 129 (2010), doi 10.1142/S1793048010001184"},
    {"trade-diffusivity", "Diffusivity 1.3e-7 m2/s, the value usual in relaxation-time formulas; 1.1e-7 to 1.5e-7"},
    {"ultrasound-2022", "BMC Medical Imaging 22, 113 (2022), doi 10.1186/s12880-022-00839-w, table 2: 49 men and 69 women, high-frequency ultrasound of the living face and neck"},
    {"van-de-hulst-absorption", "Absorption by a sphere when rays go straight through it (anomalous diffraction, absorption part); H. C. van de Hulst, Light Scattering by Small Particles (1957)"},
    {"water-33C", "Water at 33 C: conductivity 0.62 W/m/K"},
    {"whitton-everall-1973", "J. T. Whitton and J. D. Everall, The thickness of the epidermis, Br. J. Dermatol. 89, 467 (1973)"},
};
const size_t brv_n_citations = sizeof brv_citations / sizeof *brv_citations;
/* clang-format on */

const char *brv_citation_text(const char *key)
{
    for (size_t i = 0; i < brv_n_citations; i++)
        if (!strcmp(brv_citations[i].key, key)) return brv_citations[i].text;
    return NULL;
}

/* ---- which of them a run rests on ---- */

static void use(struct brv_cited *cited, const char *key, const char *seen, const char *what)
{
    if (!strcmp(key, "-") || cited->n == BRV_MOST_CITED) return;
    for (size_t i = 0; i < cited->n; i++)
        if (!strcmp(cited->used[i].key, key) && !strcmp(cited->used[i].what, what)) return;
    cited->used[cited->n++] = (struct brv_cited_use){key, seen, what};
}

/* Does some layer leave this key to its default? Film layers take none. */
static bool left_to_default(const struct brv_skin *skin, const struct brv_key *key)
{
    for (size_t i = brv_film_covers(skin); i < skin->n_layer; i++)
        if (!brv_key_given(&skin->layer[i], BRV_SCOPE_LAYER, key->name) && skin->layer[i].kind < BRV_N_KIND &&
            !isnan(key->standard[skin->layer[i].kind]))
            return true;
    return false;
}

/* Is the default of this key at work? */
static bool default_used(const struct brv_scenario *ask, const struct brv_key *key)
{
    const struct brv_skin *skin = &ask->skin[BRV_NEIGHBOUR];
    switch (key->scope) {
    case BRV_SCOPE_LAYER:
        return left_to_default(skin, key);
    case BRV_SCOPE_GRAIN:
        return !brv_key_given(&skin->grain, BRV_SCOPE_GRAIN, key->name);
    case BRV_SCOPE_SURFACE:
        return !brv_key_given(&ask->surface, BRV_SCOPE_SURFACE, key->name);
    case BRV_SCOPE_WATCH:
        return !brv_key_given(&ask->watch, BRV_SCOPE_WATCH, key->name);
    case BRV_SCOPE_VESSEL:
        return ask->vessel.depth > 0.0 && !brv_key_given(&ask->vessel, BRV_SCOPE_VESSEL, key->name);
    case BRV_SCOPE_FILM:
        return ask->film.given && !brv_key_given(&ask->film, BRV_SCOPE_FILM, key->name);
    default:
        return false;
    }
}

static void use_defaults(struct brv_cited *cited, const struct brv_scenario *ask)
{
    for (size_t i = 0; i < brv_n_keys; i++)
        if (default_used(ask, &brv_keys[i])) use(cited, brv_keys[i].source, brv_keys[i].seen, brv_keys[i].help);
}

static void use_outside(struct brv_cited *cited, const struct brv_surface *surface)
{
    if (brv_key_given(surface, BRV_SCOPE_SURFACE, "index")) return;
    if (surface->outside == BRV_GEL) use(cited, "gel-index", "memory", "refractive index of the gel");
    if (surface->outside == BRV_PLATE) use(cited, "plate-index", "memory", "refractive index of the plate");
}

static void use_site(struct brv_cited *cited, const struct brv_skin *skin)
{
    if (!skin->body) return;
    const struct brv_body_site *site = &brv_body_sites[skin->body - 1];
    if (site->epidermis.value > 0.0)
        use(cited, site->epidermis.source, site->epidermis.seen, "epidermis of the body site");
    if (site->horny.value > 0.0) use(cited, site->horny.source, site->horny.seen, "horny layer of the body site");
    if (site->dermis.value > 0.0) use(cited, site->dermis.source, site->dermis.seen, "dermis of the body site");
}

void brv_cited_collect(struct brv_cited *cited, const struct brv_result *result)
{
    const struct brv_scenario *ask = &result->ask;
    const struct brv_skin *skin = &ask->skin[BRV_NEIGHBOUR];
    for (size_t i = 0; i < BRV_N_CRITERION; i++)
        use(cited, brv_criteria[i].source, brv_criteria[i].seen, "temperature at which a grain counts as disrupted");
    use(cited, "jacques-1998", "seen", "absorption inside a grain, and its ten-fold spread: low and high of this page");
    use(cited, "jacques-2008", "seen", "how pigment, blood, water and the rest add up");
    use(cited, "prahl-1998", "seen", "absorption of blood");
    use(cited, "rottgers-2016", "seen", "absorption of water");
    use(cited, "van-de-hulst-absorption", "memory", "how a grain shades itself");
    use(cited, "trade-diffusivity", "memory", "diffusivity in formulas of relaxation times");
    use(cited, "relaxation-kappa", "computed", "definitions of a relaxation time");
    use(cited, "photoacoustic", "memory", "pressure in a grain");
    for (size_t i = 0; i < BRV_N_DAMAGE_TISSUE; i++)
        use(cited, brv_damage_pairs[ask->watch.damage][i].source, brv_damage_pairs[ask->watch.damage][i].seen,
            "rates of damage by lasting warmth");
    use_site(cited, skin);
    if (skin->ready)
        use(cited, brv_ready_skins[skin->ready - 1].source, brv_ready_skins[skin->ready - 1].seen,
            "pigment of the ready skin");
    if (skin->colour.melanosomes > 0.0) use(cited, "chardon-1991", "second-hand", "the angle ITA of a measured colour");
    use_outside(cited, &ask->surface);
    use_defaults(cited, ask);
    use(cited, "hruza-1991", "abstract", "cautions: darker skin below a sign; threshold ratio in people");
    use(cited, "negishi-2013", "abstract", "cautions: more whitening");
}
