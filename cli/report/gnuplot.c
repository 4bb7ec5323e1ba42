#include "report/gnuplot.h"

#include "base/team.h"
#include "report/child.h"
#include "report/place.h"

#include <fcntl.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define TIME_LIMIT 20.0 /* for one picture, usually drawn in a fifth of a second [s] */

/* Where it comes from, as far as that was tried. */
#define HOW_TO_GET                                                                                                     \
    "gnuplot was not found; `apt install gnuplot-nox` brings it on Debian and its kin (names elsewhere were not "      \
    "tried)"

enum { PATH_ROOM = BRV_PLACE_SIZE, TROUBLE_ROOM = 512, MOST_ARGUMENTS = BRV_FIGURE_WORDS + 7, N_KIND = 2 };

static const char *const kinds[N_KIND] = {"svg", "png"};

extern char **environ;

/* ---- where the scripts are ---- */

/* The folder of the scripts; when they are not there, where they were looked for last. */
static bool find_scripts(char folder[PATH_ROOM])
{
    const bool found = brv_place_find(folder, "plots/style.gp");
    *strrchr(folder, '/') = '\0';
    return found;
}

/* ---- running gnuplot ---- */

/* Of the environment only what a program needs to be found, to load its libraries and to find fonts: the rest could change
 * a figure from one user to the next, or name files to read and programs to start. The array is the caller's to free, its
 * strings are not. */
static char **environment_build(void)
{
    static char plain[] = "LC_ALL=C";
    static const char *const needed[] = {"PATH=", "HOME=", "TMPDIR=", "LD_", "FONTCONFIG_", "XDG_"};
    size_t n = 0, kept = 0;
    while (environ[n]) n++;
    char **own = malloc((n + 2) * sizeof *own);
    if (!own) return NULL;
    for (size_t i = 0; i < n; i++) {
        bool keep = false;
        for (size_t k = 0; k < sizeof needed / sizeof *needed; k++)
            if (!strncmp(environ[i], needed[k], strlen(needed[k]))) keep = true;
        if (keep) own[kept++] = environ[i];
    }
    own[kept++] = plain;
    own[kept] = NULL;
    return own;
}

/* Runs gnuplot to its end. False with a reason when that was not a good one; `call_off` is set when the next one would
 * fare no better: a gnuplot that hangs hangs at every picture.                                                     */
static bool run_gnuplot(char *const argument[], atomic_bool *call_off, char *reason, size_t room)
{
    char said[TROUBLE_ROOM - 64];
    char **environment = environment_build();
    if (!environment) {
        snprintf(reason, room, "gnuplot was not started: out of memory");
        return false;
    }
    const enum brv_child_end end = brv_child_run(argument, environment, TIME_LIMIT, call_off, said, sizeof said);
    free(environment);
    if (end == BRV_CHILD_MISSING) {
        snprintf(reason, room, HOW_TO_GET);
    } else if (end == BRV_CHILD_TOO_LONG) {
        snprintf(reason, room, "gnuplot took longer than %.0f s for one picture and was ended; no more were tried",
                 TIME_LIMIT);
    } else if (end == BRV_CHILD_NOT_STARTED || end == BRV_CHILD_FAILED) {
        snprintf(reason, room, "gnuplot %s: %s", end == BRV_CHILD_FAILED ? "failed" : "was not started", said);
    }
    if (end == BRV_CHILD_MISSING || end == BRV_CHILD_TOO_LONG) atomic_store(call_off, true);
    return end == BRV_CHILD_DONE;
}

/* ---- one picture ---- */

/* A name that gnuplot could take for a command starts with < or |; behind ./ it is a name like others. */
static void path_in(char out[PATH_ROOM], const char *folder, const char *before, const char *name, const char *kind,
                    const char *after)
{
    snprintf(out, PATH_ROOM, "%s%s/%s%s.%s%s", *folder == '/' ? "" : "./", folder, before, name, kind, after);
}

/* gnuplot does not notice a full disk: half a picture then comes with exit code 0. A whole one ends as its format has it. */
static bool is_whole(const char *path, const char *kind)
{
    char end[16];
    struct stat about;
    const int file =
        open(path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW); /* no memory is asked for: that is not gnuplot's fault */
    if (file < 0) return false;
    const off_t from =
        !fstat(file, &about) && about.st_size > (off_t)sizeof end ? about.st_size - (off_t)sizeof end : 0;
    const ssize_t got = pread(file, end, sizeof end, from);
    const size_t n = got > 0 ? (size_t)got : 0;
    close(file);
    const char *mark = strcmp(kind, "png") ? "</svg>" : "IEND";
    for (size_t i = 0; i + strlen(mark) <= n; i++)
        if (!memcmp(end + i, mark, strlen(mark))) return true;
    return false;
}

/* Draws under a temporary name: a failed script leaves an empty file behind. */
static bool draw_one(const struct brv_figure *figure, const char *kind, const char *scripts, const char *folder,
                     atomic_bool *call_off, char *reason, size_t room)
{
    char script[PATH_ROOM], data[PATH_ROOM], part[PATH_ROOM], whole[PATH_ROOM];
    path_in(script, scripts, "", figure->name, "gp", "");
    path_in(data, folder, "", figure->name, "csv", "");
    path_in(part, folder, ".", figure->name, kind, ".part");
    path_in(whole, folder, "", figure->name, kind, "");

    const char *argument[MOST_ARGUMENTS] = {"gnuplot", "-d", "-c", script, data, part, kind};
    size_t n = 7;
    for (size_t i = 0; figure->words[i]; i++) argument[n++] = figure->words[i];

    char *given[MOST_ARGUMENTS] = {NULL}; /* posix_spawn wants them so, and leaves them as they are */
    memcpy(given, argument, sizeof given);
    bool good = run_gnuplot(given, call_off, reason, room);
    if (good && (!is_whole(part, kind) || rename(part, whole))) {
        snprintf(reason, room, "gnuplot left no whole %s.%s", figure->name, kind);
        good = false;
    }
    if (!good) remove(part); /* a folder too */
    return good;
}

/* ---- all pictures ---- */

struct drawing {
    const struct brv_figure *figure;
    const char *scripts, *folder;
    bool wanted[BRV_MOST_FIGURES];
    bool drawn[BRV_MOST_FIGURES][N_KIND];
    atomic_bool call_off; /* no more are tried, and those at work are ended */
    char trouble[BRV_MOST_FIGURES][N_KIND][TROUBLE_ROOM];
};

static bool has_data(const char *folder, const char *name)
{
    char path[PATH_ROOM];
    snprintf(path, sizeof path, "%s/%s.csv", folder, name);
    return !access(path, R_OK);
}

/* A picture that fails is told, not an error: the others are drawn all the same. */
static brv_status draw_item(void *context, size_t item, struct brv_error *error)
{
    struct drawing *drawing = context;
    const size_t i = item / N_KIND, k = item % N_KIND;
    (void)error;
    if (drawing->wanted[i] && !atomic_load(&drawing->call_off))
        drawing->drawn[i][k] = draw_one(&drawing->figure[i], kinds[k], drawing->scripts, drawing->folder,
                                        &drawing->call_off, drawing->trouble[i][k], TROUBLE_ROOM);
    return BRV_OK;
}

static void add_picture(char pictures[BRV_PICTURES_SIZE], const char *name)
{
    const size_t n = strlen(pictures);
    snprintf(pictures + n, BRV_PICTURES_SIZE - n, "%s%s.png", n ? ", " : "", name);
}

/* Can anything be drawn in `folder` at all? */
static bool ready_to_draw(char scripts[PATH_ROOM], const char *folder, char *reason, size_t room)
{
    const bool found = find_scripts(scripts);
    if (!found)
        snprintf(reason, room, "the scripts that draw were not found in %s", scripts);
    else if (strlen(scripts) + strlen(folder) > PATH_ROOM - 64)
        snprintf(reason, room, "the name of the folder is too long to draw in");
    else
        return true;
    return false;
}

int brv_gnuplot_draw(const struct brv_figure figure[], size_t n, const char *folder, unsigned threads,
                     char pictures[BRV_PICTURES_SIZE], char *reason, size_t room)
{
    char scripts[PATH_ROOM];
    *pictures = '\0';
    if (room) *reason = '\0';
    if (!ready_to_draw(scripts, folder, reason, room)) return 0;
    struct drawing *drawing = calloc(1, sizeof *drawing);
    int drawn = 0;
    if (!drawing) {
        snprintf(reason, room, "out of memory");
        return 0;
    }
    drawing->figure = figure;
    drawing->scripts = scripts;
    drawing->folder = folder;
    for (size_t i = 0; i < n; i++) drawing->wanted[i] = has_data(folder, figure[i].name);
    const brv_status status = brv_team_run(n * N_KIND, threads, draw_item, drawing, NULL);
    for (size_t i = 0; i < n && !status; i++) {
        if (drawing->drawn[i][0] && drawing->drawn[i][1]) add_picture(pictures, figure[i].name);
        for (size_t k = 0; k < N_KIND && drawing->wanted[i]; k++) {
            drawn += drawing->drawn[i][k];
            if (!drawing->drawn[i][k] && room && !*reason) snprintf(reason, room, "%s", drawing->trouble[i][k]);
        }
    }
    if (status && room) snprintf(reason, room, "out of memory"); /* the only way in which a team fails that draws */
    free(drawing);
    return drawn;
}
