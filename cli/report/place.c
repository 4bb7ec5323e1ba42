#include "report/place.h"

#include "report/complain.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <unistd.h>

#ifndef BRV_DATA
#define BRV_DATA "."
#endif

static bool readable(char path[BRV_PLACE_SIZE], const char *folder, const char *name)
{
    const int n = snprintf(path, BRV_PLACE_SIZE, "%s/%s", folder, name);
    return n > 0 && n < BRV_PLACE_SIZE && !access(path, R_OK);
}

/* The folder of the program, and the one above it: "/usr/bin/brevis" gives "/usr". */
static bool above_program(char folder[BRV_PLACE_SIZE])
{
    const ssize_t n = readlink("/proc/self/exe", folder, BRV_PLACE_SIZE - 1);
    if (n <= 0) return false;
    folder[n] = '\0';
    for (int up = 0; up < 2; up++) {
        char *slash = strrchr(folder, '/');
        if (slash) *slash = '\0';
    }
    return true;
}

bool brv_place_find(char path[BRV_PLACE_SIZE], const char *name)
{
    char above[BRV_PLACE_SIZE], installed[BRV_PLACE_SIZE + 16];
    const char *given = getenv("BREVIS_DATA");
    if (given && *given) return readable(path, given, name);
    if (above_program(above)) {
        snprintf(installed, sizeof installed, "%s/share/brevis", above);
        if (readable(path, installed, name) || readable(path, above, name)) return true;
    }
    return readable(path, BRV_DATA, name);
}

FILE *brv_place_ready(const char *path)
{
    struct stat there;
    char found[BRV_PLACE_SIZE];
    if (strncmp(path, "scenarios/", strlen("scenarios/")) != 0 || strstr(path, "/..")) return NULL;
    if (lstat(path, &there) == 0 || errno != ENOENT || !brv_place_find(found, path)) return NULL;
    FILE *from = fopen(found, "rb");
    if (from) brv_complain("brevis: no %s in this folder; reading the one that came with it, %s", path, found);
    return from;
}
