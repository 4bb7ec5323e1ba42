/* Other values for a scenario's text, from the table of keys: for the target that wants texts that stay sound. */
#include "fuzz/fuzz.h"

#include "report/number.h"
#include "scenario/keys.h"
#include "scenario/unit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { VALUE_SIZE = 96, MOST_PLACES = 64 };

struct found {
    size_t at, length; /* of the value */
    const struct brv_key *key;
};

static double share_of(unsigned *seed)
{
    *seed = *seed * 1664525u + 1013904223u;
    return (*seed >> 8) / 16777216.0;
}

/* Within the range, evenly in the logarithm where it spans much; now and then one of its ends. */
static double value_in(const struct brv_key *key, unsigned *seed)
{
    const double share = share_of(seed);
    if (share < 0.05) return key->least;
    if (share > 0.95) return key->most;
    if (key->least > 0.0 && key->most > 20.0 * key->least) return key->least * pow(key->most / key->least, share);
    return key->least + share * (key->most - key->least);
}

static void write_value(char out[VALUE_SIZE], const struct brv_key *key, unsigned *seed)
{
    const double value = value_in(key, seed);
    const struct brv_unit *unit = brv_unit_best(value, key->dimension);
    size_t n = 0;
    if (key->words) {
        while (key->words[n]) n++;
        snprintf(out, VALUE_SIZE, "%s", key->words[(size_t)(share_of(seed) * (double)n) % n]);
    } else if (unit) {
        snprintf(out, VALUE_SIZE, "%.6g %s", (value - unit->offset) / unit->times / pow(10.0, unit->power), unit->name);
    } else {
        snprintf(out, VALUE_SIZE, "%.6g", value);
    }
}

static bool ends_word(char letter)
{
    return strchr(" .,{[\n\"", letter) != NULL;
}

/* The values behind `NAME: ` in the text; how many there are. */
static size_t find_values(struct found found[MOST_PLACES], const char *text)
{
    size_t n = 0;
    for (const char *colon = text; (colon = strstr(colon, ": ")) && n < MOST_PLACES; colon += 2) {
        const char *name = colon;
        while (name > text && !ends_word(name[-1])) name--;
        const size_t length = (size_t)(colon - name), value = strcspn(colon + 2, ",}]\n#\"");
        for (size_t i = 0; i < brv_n_keys && value && n < MOST_PLACES; i++)
            if (strlen(brv_keys[i].name) == length && !strncmp(brv_keys[i].name, name, length) &&
                brv_keys[i].kind != BRV_LIST && brv_keys[i].kind != BRV_LAYER_REF)
                found[n++] = (struct found){(size_t)(colon + 2 - text), value, &brv_keys[i]};
    }
    return n;
}

size_t fuzz_change(char *out, size_t room, const uint8_t *data, size_t size, unsigned seed)
{
    struct found found[MOST_PLACES];
    char value[VALUE_SIZE], *text = fuzz_text(data, size);
    const size_t n = find_values(found, text);
    size_t changed = 0;
    if (n > 0) {
        const struct found *at = &found[(size_t)(share_of(&seed) * (double)n) % n];
        write_value(value, at->key, &seed);
        const int length = snprintf(out, room, "%.*s%s%s", (int)at->at, text, value, text + at->at + at->length);
        if (length > 0 && (size_t)length < room) changed = (size_t)length;
    }
    free(text);
    return changed;
}
