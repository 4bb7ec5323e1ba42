#include "scenario/rival.h"

#include <stddef.h>
#include <string.h>

static const struct {
    const char *section, *one, *other;
} rivals[] = {
    {"light", "fluence", "energy"},
    {"skin", "scattering", "reduced_scattering"},
    {"skin", "absorption", "melanosomes"},
    {"skin", "absorption", "blood"},
    {"skin", "absorption", "saturation"},
    {"skin", "absorption", "water"},
    {"skin", "absorption", "baseline"},
    {"grain", "absorption", "darkness"},
    {"surface", "outside", "index"},
    {"surface", "index", "from"},
    {"surface", "index", "to"},
    {"surface", "index", "outside_temperature"},
    {"room", "divergence", "lens"},
};

bool brv_rival(const char *section, const char *key, const char *other)
{
    for (size_t i = 0; i < sizeof rivals / sizeof *rivals; i++) {
        if (strcmp(rivals[i].section, section)) continue;
        if (!strcmp(rivals[i].one, key) && !strcmp(rivals[i].other, other)) return true;
        if (!strcmp(rivals[i].one, other) && !strcmp(rivals[i].other, key)) return true;
    }
    return false;
}

static const struct {
    const char *section, *key, *value, *other;
} moot[] = {
    {"surface", "outside", "air", "from"},
    {"surface", "outside", "air", "to"},
    {"surface", "outside", "air", "outside_temperature"},
    {"light", "count", "1", "rate"},
    {"light", "passes", "1", "pause"},
};

bool brv_moot(const char *section, const char *key, const char *value, const char *other)
{
    for (size_t i = 0; i < sizeof moot / sizeof *moot; i++)
        if (!strcmp(moot[i].section, section) && !strcmp(moot[i].key, key) && !strcmp(moot[i].value, value) &&
            !strcmp(moot[i].other, other))
            return true;
    return false;
}
