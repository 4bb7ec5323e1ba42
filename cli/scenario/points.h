/* The points of a sweep: one scenario, read once, and a `--set` more for every key that varies. Each point goes through
 * all that a scenario goes through, so every check and every rival of a key holds for it.
 * The first key is the slowest: with n1 values of the second, point p has values p / n1 and p % n1.                  */
#ifndef BRV_CLI_SCENARIO_POINTS_H
#define BRV_CLI_SCENARIO_POINTS_H

#include "scenario/vary.h"

#include <stdint.h>

enum { BRV_POINTS_KEYS = 2 };

struct brv_points {
    const char *name; /* what messages call the scenario; borrowed */
    char *text;       /* [size] its bytes; owned */
    size_t size;
    const char *const *set; /* [n_set] borrowed */
    size_t n_set;
    struct brv_vary vary[BRV_POINTS_KEYS]; /* [n_vary] */
    size_t n_vary;
    size_t n;                /* points in all, at most BRV_VARY_MOST */
    struct brv_request base; /* without --vary; where that alone is no whole scenario, the first point */
    bool own;                /* the base is the scenario's own */
    uint64_t asked; /* what all points ask for, one number: what a key changes depends on which others were given */
};

/* Reads `path` (`-`: standard input) and the arguments of --vary, then every point, before anything is computed. All
 * faults are listed, those of points that are refused for the first few of them. Returns 0, or the exit code that fits
 * as in brv_request_read; to be freed in every case.                                                              */
int brv_points_read(struct brv_points *points, const char *path, const char *const set[], size_t n_set,
                    const char *const vary[], size_t n_vary, struct brv_faults *faults);

/* Reads one point again. 0, or 6: all of them were sound. */
int brv_points_request(struct brv_request *request, const struct brv_points *points, size_t point);

/* Which value of key `which` a point has. */
size_t brv_points_at(const struct brv_points *points, size_t point, size_t which);

/* "light.spot = 2 mm, light.pulse = 1 ns". Returns `out`. */
enum { BRV_POINTS_TEXT_SIZE = 384 };
const char *brv_points_text(char out[BRV_POINTS_TEXT_SIZE], const struct brv_points *points, size_t point);

/* Sixteen hexadecimal digits of the keys, all their values and what every point asks for: FNV-1a, 64 bit. Returns `out`.
 * The same only where every point is the same: two scenarios that are one without --vary may part as soon as a spot is varied
 * under a fluence here and under an energy there.                                                                      */
enum { BRV_POINTS_HASH_SIZE = 17 };
const char *brv_points_hash(char out[BRV_POINTS_HASH_SIZE], const struct brv_points *points);

void brv_points_free(struct brv_points *points);

#endif
