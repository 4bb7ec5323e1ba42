/* `brevis explain`: what may stand in a scenario, from the one table of keys. */
#include "command/explain.h"

#include "command/command.h"
#include "command/options.h"
#include "report/body.h"
#include "report/term.h"
#include "scenario/fault.h"
#include "scenario/nearest.h"
#include "scenario/slip.h"
#include "scenario/unit.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const struct brv_section sections[] = {
    {"light", "the pulse that reaches the skin, once or in a train"},
    {"skin", "a list of layers from the surface inwards, each `- layer: NAME` and its keys;\n"
             "        or a ready skin: light, intermediate, dark, which may have a body site:\n"
             "        {ready: light, site: neck}; or a measured colour"},
    {"skin.colour",
     "the colour that was measured, in place of the pigment: `skin: {colour: {L: 62, b: 17}}` makes the\n"
     "        layers of a ready skin, with as many melanosomes as give this model's skin the same ITA;\n"
     "        what else differs stands beside it, as in `dermis.blood: 1 %`"},
    {"grain", "one pigment grain"},
    {"surface", "what lies on the skin and when, and how warm skin and body are at the start"},
    {"below", "what lies under the last layer, when that is not endless"},
    {"watch", "where and how long the temperature is written, and by what it is judged"},
    {"vessel", "a blood vessel in the dermis: its rough warmth, no threshold"},
    {"ladder", "test spots: the user's own steps of fluence, for `brevis ladder`"},
    {"cover", "how spots are laid on an area of skin, for `brevis cover`"},
    {"room", "who else the light may reach, for `brevis room`"},
    {"visits", "several visits with the same pulse, for `brevis visits`"},
    {"film", "make-up, sunscreen or soot on the skin, or the word none: an absorbing layer above depth 0"},
};

static const char title_text[] = "title   one line of text, for the reader; it changes no number\n";

enum { N_SECTION = sizeof sections / sizeof *sections };

static const char lesion_text[] =
    "lesion  what differs in the spot being treated: any key of skin and grain, one a line, as in\n"
    "        `basal.melanosomes: 14 %` or `grain.diameter: 0.5 um`; left out: 2.5 times the pigment\n"
    "        in the basal row, 60 % at most; {} for no difference\n";

static const char choices_text[] =
    "choices what `brevis compare` sets side by side: a name and the keys that differ, one choice a line, as in\n"
    "        `wider spot, same energy: {light.spot: 7 mm, light.energy: 75 mJ}`; {} is the scenario itself\n";

static const char spread_text[] =
    "spread  values of the scenario that `brevis spread` draws too, each with low and high, as in\n"
    "        `skin.basal.melanosomes: 4 % to 9 %`; what the scenario does not give is drawn anyway\n";

static const char film_text[] =
    "Which film absorbs how much is for the user to say: no default, nothing is known of a product. No film is "
    "melted,\n"
    "boiled or burnt: above 112 C its figure is absorbed energy over heat capacity.\n"
    "Grains of metal are left out: there are no honest data, and such a grain does not absorb like a dark ball.\n"
    "Published instead: after gold salts, even 26 years ago, nanosecond pulses turned skin blue at once (Cohen and\n"
    "Ross 2015, 5 cases); permanent make-up may blacken. Keep away.\n";

static const char set_text[] =
    "On the command line a path takes a value to one key: --set light.spot=\"6 mm\",\n"
    "--set skin.basal.melanosomes=\"8 %\", --set watch.depths=\"[0 um, 1 mm]\". It replaces what the\n"
    "file says, and also the key that says the same in another way: energy takes the place of fluence.\n";

bool brv_explain_within(const struct brv_key *key, const char *section)
{
    return !strcmp(brv_scope_name(key->scope), section);
}

static bool differs_by_kind(const struct brv_key *key)
{
    if (key->scope != BRV_SCOPE_LAYER) return false;
    for (size_t i = 1; i < BRV_N_KIND; i++)
        if (key->standard[i] < key->standard[0] || key->standard[i] > key->standard[0]) return true;
    return false;
}

const char *brv_explain_default(char out[BRV_ALLOWED_SIZE], const struct brv_key *key)
{
    if (differs_by_kind(key))
        snprintf(out, BRV_ALLOWED_SIZE, "by kind");
    else if (isnan(key->standard[0]) || key->kind == BRV_LAYER_REF)
        snprintf(out, BRV_ALLOWED_SIZE, "-");
    else
        brv_allowed_value(out, key, key->standard[0]);
    return out;
}

/* "0.5 % (0.2 % to 1 %)", the bracket only where a spread is known. */
static const char *standard_text(char out[BRV_ALLOWED_SIZE], const struct brv_key *key, size_t kind)
{
    char value[BRV_ALLOWED_SIZE], low[BRV_ALLOWED_SIZE], high[BRV_ALLOWED_SIZE];
    brv_allowed_value(value, key, key->standard[kind]);
    if (isnan(key->low[kind]))
        snprintf(out, BRV_ALLOWED_SIZE, "%.40s", value);
    else
        snprintf(out, BRV_ALLOWED_SIZE, "%.40s (spread %.40s to %.40s)", value,
                 brv_allowed_value(low, key, key->low[kind]), brv_allowed_value(high, key, key->high[kind]));
    return out;
}

/* ---- all keys ---- */

static void print_row(const struct brv_key *key)
{
    char allowed[BRV_ALLOWED_SIZE], standard[BRV_ALLOWED_SIZE];
    printf("  %-19s  %-42s  %s\n", key->name, brv_allowed(allowed, key), brv_explain_default(standard, key));
    printf("      %s\n", key->help);
}

static void print_section(size_t section)
{
    printf("%-7s %s\n", sections[section].name, sections[section].text);
    printf("  %-19s  %-42s  %s\n", "key", "allowed", "default");
    for (size_t row = 0; row < brv_n_keys; row++)
        if (brv_explain_within(&brv_keys[row], sections[section].name)) print_row(&brv_keys[row]);
}

static void print_all(void)
{
    fputs(title_text, stdout);
    for (size_t i = 0; i < N_SECTION; i++) {
        putchar('\n');
        print_section(i);
    }
    printf("\n%s\n%s\n%s\n%s\nOne section: brevis explain light. One key in full: brevis explain light.spot, or "
           "skin.blood\n"
           "The words of tables and cards: brevis explain terms; body sites: brevis explain sites\n",
           lesion_text, choices_text, spread_text, set_text);
}

/* ---- the same as a page ---- */

/* A row of a Markdown table; only what stands in the table of keys, so nothing needs escaping. */
static void print_page_row(const struct brv_key *key)
{
    char allowed[BRV_ALLOWED_SIZE], standard[BRV_ALLOWED_SIZE], list[BRV_UNIT_LIST_SIZE];
    const char *units = key->dimension == BRV_PURE ? "" : brv_unit_list(list, key->dimension);
    printf("| `%s` | %s | %s | %s | %s | ", key->name, key->help, units, brv_allowed(allowed, key),
           brv_explain_default(standard, key));
    if (strcmp(key->source, "-"))
        printf("%s (%s) |\n", key->source, key->seen);
    else
        puts("this project |");
}

static void print_page_defaults(void)
{
    const char *const *kinds = brv_keys[brv_key_find(BRV_SCOPE_LAYER, "kind")].words;
    char text[BRV_ALLOWED_SIZE];
    puts("\n## Defaults by kind of layer\n");
    fputs("| key |", stdout);
    for (size_t i = 0; i < BRV_N_KIND; i++) printf(" %s |", kinds[i]);
    fputs("\n| --- |", stdout);
    for (size_t i = 0; i < BRV_N_KIND; i++) fputs(" --- |", stdout);
    for (size_t row = 0; row < brv_n_keys; row++) {
        if (!differs_by_kind(&brv_keys[row])) continue;
        printf("\n| `%s` |", brv_keys[row].name);
        for (size_t i = 0; i < BRV_N_KIND; i++) printf(" %s |", standard_text(text, &brv_keys[row], i));
    }
    putchar('\n');
}

/* ---- ready skins ---- */

/* "1.82 %": the share of one layer. */
static const char *share_text(char out[BRV_ALLOWED_SIZE], double share)
{
    return brv_allowed_value(out, &brv_keys[brv_key_find(BRV_SCOPE_LAYER, "melanosomes")], share);
}

/* "melanin-fraction (memory)" */
static const char *ready_source(char out[BRV_ALLOWED_SIZE], const struct brv_ready_skin *ready)
{
    if (strcmp(ready->source, "-"))
        snprintf(out, BRV_ALLOWED_SIZE, "%s (%s)", ready->source, ready->seen);
    else
        snprintf(out, BRV_ALLOWED_SIZE, "this project");
    return out;
}

/* One ready skin, its columns parted by `rule`. */
static void print_ready(enum brv_preset preset, const char *rule)
{
    const struct brv_ready_skin *ready = &brv_ready_skins[preset];
    struct brv_skin skin;
    char text[BRV_ALLOWED_SIZE], low[BRV_ALLOWED_SIZE], high[BRV_ALLOWED_SIZE];
    brv_skin_preset(&skin, preset);
    const double layer[] = {skin.layer[0].melanosomes, skin.layer[1].melanosomes,
                            brv_melanosomes_times(skin.layer[1].melanosomes, BRV_LESION_FACTOR)};
    printf("%-12s%s%s (%s to %s)", ready->name, rule, share_text(text, ready->melanosomes), share_text(low, ready->low),
           share_text(high, ready->high));
    for (size_t i = 0; i < sizeof layer / sizeof *layer; i++) printf("%s%s", rule, share_text(text, layer[i]));
    printf("%s%s", rule, ready_source(text, ready));
}

static const char ready_text[] =
    "Melanosomes of the whole epidermis, 60 um, with their range; 60 % of them (40 to 90 %) lie in the\n"
    "basal row; a lesion that is not described has 2.5 times (1.5 to 4) the basal row's, 60 % at most:\n"
    "choices of this project. Everything else is the default of the layer's kind.\n";

static void print_page_ready(void)
{
    printf("\n## Ready skins\n\n%s\n", ready_text);
    puts("| skin | whole epidermis | epidermis, 50 um | basal, 10 um | basal of a lesion | source |\n"
         "| --- | --- | --- | --- | --- | --- |");
    for (int i = 0; i < BRV_N_PRESET; i++) {
        fputs("| ", stdout);
        print_ready((enum brv_preset)i, " | ");
        puts(" |");
    }
}

static void print_plain_ready(void)
{
    printf("\nready skins: whole epidermis, epidermis (50 um), basal (10 um), basal of a lesion, source\n");
    for (int i = 0; i < BRV_N_PRESET; i++) {
        fputs("  ", stdout);
        print_ready((enum brv_preset)i, "   ");
        putchar('\n');
    }
    fputs(ready_text, stdout);
}

static void print_page(void)
{
    puts("# What may stand in a scenario\n\nThis page is written by `brevis explain --page` from the table of keys in "
         "model/scenario/keys.c.\nUnits are a closed list; a bare number is refused where a unit belongs.\n"
         "Sources are listed in [sources.md](../sources.md).\n\n`title`: one line of text.");
    for (size_t i = 0; i < N_SECTION; i++) {
        printf("\n## %s\n\n%s\n\n", sections[i].name, sections[i].text);
        puts("| key | meaning | units | allowed | default | source |\n| --- | --- | --- | --- | --- | --- |");
        for (size_t row = 0; row < brv_n_keys; row++)
            if (brv_explain_within(&brv_keys[row], sections[i].name)) print_page_row(&brv_keys[row]);
        if (!strcmp(sections[i].name, "film")) printf("\n%s", film_text);
    }
    print_page_defaults();
    print_page_ready();
    brv_body_list(stdout, true);
    printf("\n## lesion\n\n%s\n## choices\n\n%s\n## spread\n\n%s\n## On the command line\n\n%s", lesion_text,
           choices_text, spread_text, set_text);
}

/* ---- one section ---- */

const char *brv_explain_plain(const char *word)
{
    if (!strcmp(word, "title")) return title_text;
    if (!strcmp(word, "choices")) return choices_text;
    if (!strcmp(word, "spread")) return spread_text;
    return strcmp(word, "lesion") ? NULL : lesion_text;
}

const struct brv_section *brv_explain_section(size_t i)
{
    return i < N_SECTION ? &sections[i] : NULL;
}

enum { KEY_SIZE = 80 };

void brv_explain_words(void (*offer)(const char *word, void *to), void *to)
{
    static const char *const others[] = {"title", "lesion", "choices", "spread", "terms", "sites"};
    for (size_t i = 0; i < N_SECTION; i++) offer(sections[i].name, to);
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) offer(others[i], to);
    for (size_t row = 0; row < brv_n_keys; row++) {
        char key[KEY_SIZE];
        if (brv_keys[row].scope == BRV_SCOPE_LAYER) continue; /* its path begins with a layer's own name */
        snprintf(key, sizeof key, "%s.%s", brv_scope_name(brv_keys[row].scope), brv_keys[row].name);
        offer(key, to);
    }
}

static int section_called(const char *word)
{
    for (int i = 0; i < N_SECTION; i++)
        if (!strcmp(sections[i].name, word)) return i;
    return -1;
}

/* False when no section has this name. */
static bool exbrv_explain_plain(const char *word)
{
    const int section = section_called(word);
    const char *text = brv_explain_plain(word);
    if (text) fputs(text, stdout);
    if (section >= 0) print_section((size_t)section);
    if (!strcmp(word, "skin")) {
        print_plain_ready();
        putchar('\n');
        print_section((size_t)section_called("skin.colour"));
    }
    if (!strcmp(word, "film")) fputs(film_text, stdout);
    const bool sites = !strcmp(word, "sites") || !strcmp(word, "site") || !strcmp(word, "skin.site");
    if (sites) brv_body_list(stdout, false);
    return text || section >= 0 || sites;
}

/* ---- one key ---- */

static void print_defaults(const struct brv_key *key)
{
    const char *const *kinds = brv_keys[brv_key_find(BRV_SCOPE_LAYER, "kind")].words;
    char text[BRV_ALLOWED_SIZE];
    if (isnan(key->standard[0]) || key->kind == BRV_LAYER_REF) {
        puts("default   -");
        return;
    }
    if (key->scope != BRV_SCOPE_LAYER) {
        printf("default   %s\n", standard_text(text, key, 0));
        return;
    }
    for (size_t i = 0; i < BRV_N_KIND; i++)
        printf("%-9s %-9s  %s\n", i ? "" : "default", kinds[i], standard_text(text, key, i));
}

static void print_units(const struct brv_key *key)
{
    char list[BRV_UNIT_LIST_SIZE];
    if (key->kind == BRV_WORD || key->kind == BRV_LAYER_REF) return;
    printf("unit      %s\n", key->dimension == BRV_PURE ? "none" : brv_unit_list(list, key->dimension));
}

static void print_source(const struct brv_key *key)
{
    static const struct {
        const char *seen, *text;
    } ways[] = {
        {"seen", "read in the source itself"},
        {"abstract", "read in the source's abstract"},
        {"second-hand", "read where another text quotes the source"},
        {"memory", "from memory, not yet compared with the source"},
        {"choice", "a choice of this project"},
    };
    const char *text = key->seen;
    for (size_t i = 0; i < sizeof ways / sizeof *ways; i++)
        if (!strcmp(ways[i].seen, key->seen)) text = ways[i].text;
    if (strcmp(key->source, "-"))
        printf("source    [%s] in docs/sources.md; %s\n", key->source, text);
    else
        printf("source    %s\n", text);
}

static void print_key(const struct brv_key *key)
{
    char text[BRV_ALLOWED_SIZE];
    printf("%s.%s\n  %s\n\n", brv_scope_name(key->scope), key->name, key->help);
    print_units(key);
    printf("allowed   %s\n", brv_allowed(text, key));
    print_defaults(key);
    print_source(key);
}

/* "basal.melanosomes", as it stands in lesion: a layer of a ready skin and a dot in front of the key. */
static bool is_layer_short(const char *word, const char *dot)
{
    const char *const *kinds = brv_keys[brv_key_find(BRV_SCOPE_LAYER, "kind")].words;
    for (size_t i = 0; kinds[i]; i++)
        if (strlen(kinds[i]) == (size_t)(dot - word) && !strncmp(word, kinds[i], strlen(kinds[i]))) return true;
    return false;
}

/* Does WORD name this key: "spot", "light.spot", "skin.basal.blood", "basal.blood", "lesion.grain.diameter"? */
static bool names(const char *word, const struct brv_key *key)
{
    const char *section = brv_scope_name(key->scope);
    const char *last = strrchr(word, '.');
    if (!last) return !strcmp(word, key->name);
    if (strcmp(last + 1, key->name)) return false;

    const bool skin = key->scope == BRV_SCOPE_LAYER;
    if (!strncmp(word, "lesion.", 7)) {
        if (skin) return strncmp(word, "lesion.grain.", 13) != 0;
        return key->scope == BRV_SCOPE_GRAIN && !strncmp(word, "lesion.grain.", 13);
    }
    if (skin && is_layer_short(word, last)) return true;
    const size_t length = strlen(section);
    const bool begins = !strncmp(word, section, length) && word[length] == '.';
    return begins && (skin || word + length == last);
}

/* May a key of this section stand behind the first part of the path `word`? Behind an unknown one any may. */
static bool could_be_in(const char *word, const char *section)
{
    char first[16] = "";
    const size_t length = strcspn(word, ".");
    if (!word[length]) return true;
    if (length < sizeof first) memcpy(first, word, length);
    if (!strcmp(first, "lesion")) return !strcmp(section, strncmp(word, "lesion.grain.", 13) ? "skin" : "grain");
    return section_called(first) < 0 || !strcmp(first, section);
}

/* What a word of another book is called here: "dose", "melanin". */
static const char *known_slip(const char *word)
{
    const struct brv_slip *slip = brv_slip_find("", word);
    for (size_t i = 0; i < N_SECTION && !slip; i++) slip = brv_slip_find(sections[i].name, word);
    return slip ? slip->meant : NULL;
}

/* The nearest name; behind the name of a section only that section's keys count. */
static const char *meant_by(const char *word)
{
    const char *last = strrchr(word, '.');
    const char *slip = known_slip(last ? last + 1 : word);
    if (slip) return slip;

    struct brv_nearest nearest = {.word = last ? last + 1 : word};
    for (size_t i = 0; i < N_SECTION && !last; i++) brv_nearest_offer(&nearest, sections[i].name);
    if (!last) brv_nearest_offer(&nearest, "lesion");
    if (!last) brv_nearest_offer(&nearest, "choices");
    if (!last) brv_nearest_offer(&nearest, "spread");
    for (size_t row = 0; row < brv_n_keys; row++)
        if (could_be_in(word, brv_scope_name(brv_keys[row].scope))) brv_nearest_offer(&nearest, brv_keys[row].name);
    return nearest.best;
}

/* The section whose name the first part of a path nearly is, or NULL. */
static const char *section_meant(const char *word, const char *dot)
{
    char first[BRV_SHOWN_SIZE];
    struct brv_nearest nearest = {.word = first};
    snprintf(first, sizeof first, "%.*s", (int)(dot - word < BRV_SHOWN_SIZE ? dot - word : 0), word);
    for (size_t i = 0; i < N_SECTION; i++) brv_nearest_offer(&nearest, sections[i].name);
    brv_nearest_offer(&nearest, "lesion");
    return nearest.best;
}

/* "papillary.blood": a key of a layer that may be called anything. */
static bool is_of_own_layer(const char *word, const char *dot)
{
    return dot && strchr(word, '.') == dot && brv_key_find(BRV_SCOPE_LAYER, dot + 1) >= 0 && !section_meant(word, dot);
}

static int unknown_key(const char *word)
{
    char shown[BRV_SHOWN_SIZE];
    const char *last = strrchr(word, '.');
    if (!*word) {
        fputs("brevis explain: no section or key has an empty name; `brevis explain` lists them all\n", stderr);
        return BRV_EXIT_USAGE;
    }
    if (is_of_own_layer(word, last)) {
        fprintf(stderr, "brevis explain: no section or key is called %s; did you mean skin.%s?\n",
                brv_fault_shown(shown, word), shown);
        return BRV_EXIT_USAGE;
    }
    const char *meant = meant_by(word);
    const bool behind = meant && last && !strchr(meant, '.') && last - word < BRV_SHOWN_SIZE;
    fprintf(stderr, "brevis explain: no section or key is called %s", brv_fault_shown(shown, word));
    for (const struct brv_command *command = brv_commands; command->name; command++)
        if (!strcmp(command->name, word)) {
            fprintf(stderr, "; it is a command: `brevis help %s`\n", word);
            return BRV_EXIT_USAGE;
        }
    const char *section = behind && !strcmp(meant, last + 1) ? section_meant(word, last) : NULL;
    if (section)
        fprintf(stderr, "; did you mean %s.%s?", section, meant);
    else if (meant)
        fprintf(stderr, "; did you mean %.*s%s?", behind ? (int)(last - word) + 1 : 0, word, meant);
    fputs(meant ? "\n" : "; `brevis explain` lists them all\n", stderr);
    return BRV_EXIT_USAGE;
}

/* ---- the vocabulary ---- */

static void print_terms(bool page)
{
    if (page)
        puts("# Glossary\n\nOne vocabulary for summaries, tables, cards and figures. Written by `brevis explain --page "
             "terms`.\n\n"
             "## Numbers\n\n| name | unit | meaning |\n| --- | --- | --- |");
    for (size_t i = 0; i < BRV_N_HEADLINE; i++) {
        const struct brv_term *term = &brv_terms[i];
        if (page)
            printf("| %s | %s | %s |\n", term->name, term->unit, term->meaning);
        else
            printf("%s%s%s\n    %s\n", term->name, *term->unit ? ", " : "", term->unit, term->meaning);
    }
    if (page) puts("\n## Words\n\n| word | meaning |\n| --- | --- |");
    for (size_t i = 0; i < brv_n_words; i++)
        printf(page ? "| %s | %s |\n" : "%s\n    %s\n", brv_words[i].word, brv_words[i].meaning);
}

/* Terms and words in which this one stands; returns how many. */
static size_t print_meanings(const char *word)
{
    size_t n = 0;
    for (size_t i = 0; i < BRV_N_HEADLINE && strlen(word) > 2; i++)
        if (strstr(brv_terms[i].name, word) && ++n) printf("%s\n    %s\n", brv_terms[i].name, brv_terms[i].meaning);
    for (size_t i = 0; i < brv_n_words && strlen(word) > 2; i++)
        if (strstr(brv_words[i].word, word) && ++n) printf("%s\n    %s\n", brv_words[i].word, brv_words[i].meaning);
    return n;
}

static int explain_one(const char *word)
{
    size_t n = 0;
    if (exbrv_explain_plain(word)) return BRV_EXIT_DONE;
    for (size_t row = 0; row < brv_n_keys; row++) {
        if (!names(word, &brv_keys[row])) continue;
        if (n++) putchar('\n');
        print_key(&brv_keys[row]);
        const char *dot = strchr(word, '.');
        if (dot && is_layer_short(word, dot) && strcmp(dot + 1, "kind")) /* which a lesion does not change */
            printf("written   lesion.%s in the spot, skin.%s around it\n", word, word);
    }
    if (!n) n = print_meanings(word);
    return n ? BRV_EXIT_DONE : unknown_key(word);
}

int brv_command_explain(int argc, char *argv[])
{
    struct brv_options options;
    const int stop = brv_options_read(&options, argc, argv, BRV_EXPLAIN_OPTIONS, 0, 1, "one section or key");
    if (stop >= 0) return stop;
    const bool page = (options.given & BRV_OPTION_PAGE) != 0;
    if (options.n_word && !strcmp(options.word[0], "terms")) {
        print_terms(page);
        return BRV_EXIT_DONE;
    }
    if (options.n_word && page) {
        fputs("brevis explain: --page takes the word terms, or none\n", stderr);
        return BRV_EXIT_USAGE;
    }
    if (options.n_word) return explain_one(options.word[0]);
    if (page)
        print_page();
    else
        print_all();
    return BRV_EXIT_DONE;
}
