/* Prints a dictionary for libFuzzer: every word a scenario may hold, from the tables of the program. */
#include "scenario/body.h"
#include "scenario/allowed.h"
#include "scenario/keys.h"
#include "scenario/unit.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void put(const char *text)
{
    if (!*text) return;
    putchar('"');
    for (; *text; text++) {
        if (*text == '"' || *text == '\\')
            printf("\\%c", *text);
        else if ((unsigned char)*text < 0x20 || (unsigned char)*text >= 0x7F)
            printf("\\x%02X", (unsigned char)*text);
        else
            putchar(*text);
    }
    puts("\"");
}

static void put_key(const struct brv_key *key)
{
    char text[BRV_ALLOWED_SIZE], path[BRV_ALLOWED_SIZE];
    snprintf(path, sizeof path, "%s.%s", brv_scope_name(key->scope), key->name);
    put(path);
    put(key->name);
    snprintf(path, sizeof path, "%s: ", key->name);
    put(path);
    for (size_t i = 0; key->words && key->words[i]; i++) put(key->words[i]);
    if (key->kind == BRV_WORD || key->kind == BRV_LAYER_REF) return;
    put(brv_allowed_value(text, key, key->least));
    put(brv_allowed_value(text, key, key->most));
    if (!isnan(key->standard[0])) put(brv_allowed_value(text, key, key->standard[0]));
}

/* brv_unit_list parts units by ", ". */
static void put_units(enum brv_dimension dimension)
{
    char list[BRV_UNIT_LIST_SIZE], text[BRV_UNIT_LIST_SIZE];
    brv_unit_list(list, dimension);
    for (char *unit = strtok(list, ", "); unit; unit = strtok(NULL, ", ")) {
        put(unit);
        snprintf(text, sizeof text, "1 %s", unit);
        put(text);
    }
}

int main(void)
{
    /* Sections that are no scope, and what YAML and CSV are made of. */
    static const char *const word[] = {"title",
                                       "lesion",
                                       "choices",
                                       "spread",
                                       "layer",
                                       "- layer: ",
                                       "skin: light",
                                       "skin: dark",
                                       "ready",
                                       "site",
                                       "colour",
                                       "none",
                                       "endless",
                                       "[",
                                       "]",
                                       "{",
                                       "}",
                                       ", ",
                                       ": ",
                                       "- ",
                                       "\n  ",
                                       "|",
                                       ">",
                                       "&a",
                                       "*a",
                                       "!a",
                                       "..",
                                       ":log",
                                       ":9",
                                       "%",
                                       "e-9",
                                       "1e308",
                                       "nan",
                                       "inf",
                                       "0x1p3",
                                       "\r\n",
                                       "\"",
                                       "'",
                                       "\\",
                                       "\xEF\xBB\xBF",
                                       "\xC2\xB5m",
                                       "\xE2\x80\xAE",
                                       "\xE2\x80\xA8",
                                       "\xC2\xB0\x43",
                                       "\xE2\x88\x92",
                                       "day",
                                       "energy_mJ",
                                       "energy_J",
                                       "spot_mm",
                                       "set_mJ",
                                       "brevis part 1, program "};
    for (size_t i = 0; i < sizeof word / sizeof *word; i++) put(word[i]);
    for (size_t i = 0; i < BRV_N_SCOPE; i++) put(brv_scope_name((enum brv_scope)i));
    for (size_t i = 0; i < brv_n_keys; i++) put_key(&brv_keys[i]);
    for (size_t i = 0; i < BRV_N_PRESET; i++) put(brv_ready_skins[i].name);
    for (size_t i = 0; i < BRV_N_DIMENSION; i++) put_units((enum brv_dimension)i);
    return 0;
}
