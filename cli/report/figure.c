#include "report/figure.h"

#include "report/hash.h"

#include "base/constants.h"
#include "scenario/unit.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <signal.h>
#include <spawn.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#ifndef BRV_VERSION
#define BRV_VERSION "0.1.0"
#endif
#ifndef BRV_PLOTS
#define BRV_PLOTS "plots"
#endif

#define TIME_LIMIT    60.0   /* for one figure, usually drawn in a fifth of a second [s] */
#define DEPTH_TO_DRAW 0.3e-3 /* the watched depth nearest to this is drawn [m] */

enum { PATH_ROOM = 4096, WORDS_ROOM = 512, MOST_ARGUMENTS = 16 };

extern char **environ;

/* ---- where the scripts are ---- */

static bool script_is_there(const char *folder)
{
    char path[PATH_ROOM + 16];
    snprintf(path, sizeof path, "%s/style.gp", folder);
    return !access(path, R_OK);
}

/* Beside the program's own folder, else where they were when it was built. */
static bool find_scripts(char folder[PATH_ROOM])
{
    const ssize_t n = readlink("/proc/self/exe", folder, PATH_ROOM - 16);
    if (n > 0) {
        folder[n] = '\0';
        for (int up = 0; up < 2; up++) {
            char *slash = strrchr(folder, '/');
            if (slash) *slash = '\0';
        }
        strcat(folder, "/plots");
        if (script_is_there(folder)) return true;
    }
    snprintf(folder, PATH_ROOM, "%s", BRV_PLOTS);
    return script_is_there(folder);
}

/* ---- running gnuplot ---- */

/* The environment without what would change a figure from one user to the next. The array is the caller's to free, its
 * strings are not. */
static char **environment_build(void)
{
    static char plain[] = "LC_ALL=C";
    static const char *const changes[] = {"LC_", "LANG=", "LANGUAGE=", "GNUTERM=", "GNUPLOT_", "GDFONTPATH="};
    size_t n = 0, kept = 0;
    while (environ[n]) n++;
    char **own = malloc((n + 2) * sizeof *own);
    if (!own) return NULL;
    for (size_t i = 0; i < n; i++) {
        bool keep = true;
        for (size_t k = 0; k < sizeof changes / sizeof *changes; k++)
            if (!strncmp(environ[i], changes[k], strlen(changes[k]))) keep = false;
        if (keep) own[kept++] = environ[i];
    }
    own[kept++] = plain;
    own[kept] = NULL;
    return own;
}

static double seconds_now(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Waits for a child, ends it when it takes too long. Returns whether it ended well. */
static bool wait_for(pid_t child, bool *too_long)
{
    const double limit = seconds_now() + TIME_LIMIT;
    const struct timespec nap = {.tv_nsec = 5000000};
    int status = 0;
    for (;;) {
        const pid_t done = waitpid(child, &status, *too_long ? 0 : WNOHANG);
        if (done == child) return !*too_long && WIFEXITED(status) && WEXITSTATUS(status) == 0;
        if (done < 0 && errno != EINTR) return false;
        if (done == 0 && seconds_now() > limit) {
            *too_long = true;
            kill(child, SIGKILL);
        } else if (done == 0) {
            nanosleep(&nap, NULL);
        }
    }
}

/* The last line of what gnuplot said, which is where it names its trouble. */
static void read_complaint(int from, char *line, size_t room)
{
    char said[2048];
    const ssize_t n = read(from, said, sizeof said - 1);
    said[n > 0 ? n : 0] = '\0';
    for (size_t end = strlen(said); end > 0 && said[end - 1] == '\n'; end--) said[end - 1] = '\0';
    const char *last = strrchr(said, '\n');
    snprintf(line, room, "%.*s", (int)room - 1, last ? last + 1 : said);
}

static int spawn(pid_t *child, char *const argument[], char *const environment[], int complaints)
{
    posix_spawn_file_actions_t actions;
    int failed = posix_spawn_file_actions_init(&actions);
    if (failed) return failed;
    failed = posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
    if (!failed) failed = posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
    if (!failed) failed = posix_spawn_file_actions_adddup2(&actions, complaints, STDERR_FILENO);
    if (!failed) failed = posix_spawnp(child, argument[0], &actions, NULL, argument, environment);
    posix_spawn_file_actions_destroy(&actions);
    return failed;
}

/* Runs gnuplot to its end. False with a reason when that was not a good one. */
static bool run_gnuplot(char *const argument[], char *reason, size_t room)
{
    int ends[2];
    char **environment = environment_build();
    if (!environment || pipe(ends)) {
        snprintf(reason, room, "gnuplot was not started: %s", strerror(errno));
        free(environment);
        return false;
    }
    /* The child must never wait for somebody to read, and must not keep our end open. */
    for (int i = 0; i < 2; i++) {
        fcntl(ends[i], F_SETFD, FD_CLOEXEC);
        fcntl(ends[i], F_SETFL, O_NONBLOCK);
    }

    pid_t child;
    bool good = false, too_long = false;
    const int failed = spawn(&child, argument, environment, ends[1]);
    close(ends[1]);
    if (failed == ENOENT)
        snprintf(reason, room, "gnuplot was not found");
    else if (failed)
        snprintf(reason, room, "gnuplot was not started: %s", strerror(failed));
    else if (!(good = wait_for(child, &too_long))) {
        char complaint[256];
        read_complaint(ends[0], complaint, sizeof complaint);
        if (too_long)
            snprintf(reason, room, "gnuplot took longer than %.0f s", TIME_LIMIT);
        else
            snprintf(reason, room, "gnuplot failed: %s", *complaint ? complaint : "it did not say why");
    }
    close(ends[0]);
    free(environment);
    return good;
}

/* ---- one figure ---- */

struct figure {
    const char *name;                      /* of its CSV, script and pictures */
    const char *words[MOST_ARGUMENTS - 7]; /* what the script wants after DATA, OUTPUT and KIND; ends with NULL */
};

/* A name that gnuplot could take for a command starts with < or |; behind ./ it is a name like others. */
static void path_in(char out[PATH_ROOM], const char *folder, const char *before, const char *name, const char *kind,
                    const char *after)
{
    snprintf(out, PATH_ROOM, "%s%s/%s%s.%s%s", *folder == '/' ? "" : "./", folder, before, name, kind, after);
}

/* Draws under a temporary name: a failed script leaves an empty file behind. */
static bool draw(const struct figure *figure, const char *kind, const char *scripts, const char *folder, char *reason,
                 size_t room)
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
    bool good = run_gnuplot(given, reason, room);
    struct stat drawn;
    if (good && (stat(part, &drawn) || drawn.st_size == 0 || rename(part, whole))) {
        snprintf(reason, room, "gnuplot left no %s.%s", figure->name, kind);
        good = false;
    }
    if (!good) unlink(part);
    return good;
}

/* ---- words ---- */

/* "7 ns", "0.3 µm", "0.6 J/cm²": a value in the unit that is named, as a person would write it. Returns `out`. */
static const char *quantity(char out[BRV_UNIT_VALUE_SIZE], double value, const struct brv_unit *unit)
{
    char plain[BRV_UNIT_VALUE_SIZE];
    brv_unit_value(plain, value, unit);
    size_t n = 0;
    for (const char *from = plain; *from && n + 3 < BRV_UNIT_VALUE_SIZE; from++) {
        const bool unit_starts = from > plain && from[-1] == ' ';
        const bool power = from > plain && from[-1] == 'm' && *from == '2';
        if (unit_starts && *from == 'u')
            n += (size_t)snprintf(out + n, BRV_UNIT_VALUE_SIZE - n, "µ");
        else if (power)
            n += (size_t)snprintf(out + n, BRV_UNIT_VALUE_SIZE - n, "²");
        else
            out[n++] = *from;
    }
    out[n] = '\0';
    return out;
}

static void say_asked(char out[WORDS_ROOM], const struct brv_scenario *ask)
{
    char wavelength[BRV_UNIT_VALUE_SIZE], pulse[BRV_UNIT_VALUE_SIZE], spot[BRV_UNIT_VALUE_SIZE],
        fluence[BRV_UNIT_VALUE_SIZE];
    snprintf(out, WORDS_ROOM, "%s, %s, %s %sspot, %s, endless beam",
             quantity(wavelength, ask->beam.wavelength, brv_unit_find("nm")),
             quantity(pulse, ask->pulse.width, brv_unit_best(ask->pulse.width, BRV_TIME)),
             quantity(spot, ask->beam.spot, brv_unit_find("mm")),
             ask->beam.profile == BRV_PROFILE_GAUSSIAN ? "Gaussian " : "",
             quantity(fluence, ask->beam.fluence, brv_unit_find("J/cm2")));
}

static size_t depth_to_draw(const struct brv_watch *watch)
{
    size_t nearest = 0;
    for (size_t i = 1; i < watch->n_depth; i++)
        if (fabs(watch->depth[i] - DEPTH_TO_DRAW) < fabs(watch->depth[nearest] - DEPTH_TO_DRAW)) nearest = i;
    return nearest;
}

/* gnuplot takes a number without a point, such as 7e-9, for a broken whole one: hence %e throughout. */
static void say_numbers(char out[WORDS_ROOM], const struct brv_result *result)
{
    const struct brv_scenario *ask = &result->ask;
    const struct brv_effect *effect = &result->site[BRV_LESION].effect;
    const bool gaussian = ask->pulse.shape == BRV_SHAPE_GAUSSIAN;
    const size_t depth = depth_to_draw(&ask->watch);
    snprintf(out, WORDS_ROOM, "%.9e %.9e %d %.9e %.9e %.9e %.9e %zu %.9e", ask->surface.temperature, ask->pulse.width,
             gaussian, brv_pulse_centre(&ask->pulse), effect->cooling.mean_efold, brv_criteria[0].temperature,
             effect->sideways, ask->watch.n_depth ? depth + 1 : 0, ask->watch.n_depth ? ask->watch.depth[depth] : 0.0);
}

static void say_layers(char boundaries[WORDS_ROOM], char names[BRV_MOST_LAYERS * BRV_LAYER_NAME_SIZE],
                       const struct brv_request *request)
{
    const struct brv_skin *skin = &request->scenario.skin[BRV_LESION];
    size_t n_boundary = 0, n_name = 0;
    double depth = 0.0;
    boundaries[0] = names[0] = '\0';
    for (size_t i = 0; i < skin->n_layer; i++) {
        n_name += (size_t)snprintf(names + n_name, BRV_MOST_LAYERS * BRV_LAYER_NAME_SIZE - n_name, "%s%s", i ? "|" : "",
                                   request->layer_name[i]);
        depth += skin->layer[i].thickness;
        if (i + 1 < skin->n_layer)
            n_boundary += (size_t)snprintf(boundaries + n_boundary, WORDS_ROOM - n_boundary, "%.9e ", depth);
    }
}

/* The line in the corner of every figure. */
static void say_corner(char out[WORDS_ROOM], const struct brv_scenario *ask)
{
    char hash[BRV_HASH_SIZE];
    snprintf(out, WORDS_ROOM,
             "brevis %s, scenario %s – teaching model, not a medical device; not for choosing settings for a person",
             BRV_VERSION, brv_hash_scenario(hash, ask));
}

int brv_figure_draw(const char *folder, const struct brv_request *request, const struct brv_result *result,
                    char *reason, size_t room)
{
    char scripts[PATH_ROOM], asked[WORDS_ROOM], numbers[WORDS_ROOM], boundaries[WORDS_ROOM], corner[WORDS_ROOM];
    char names[BRV_MOST_LAYERS * BRV_LAYER_NAME_SIZE], grain[BRV_UNIT_VALUE_SIZE];
    if (room) *reason = '\0';
    if (!find_scripts(scripts)) {
        snprintf(reason, room, "the scripts that draw were not found in %s", scripts);
        return 0;
    }
    if (strlen(scripts) + strlen(folder) > PATH_ROOM - 64) {
        snprintf(reason, room, "the name of the folder is too long to draw in");
        return 0;
    }

    say_asked(asked, &result->ask);
    say_numbers(numbers, result);
    say_layers(boundaries, names, request);
    say_corner(corner, &request->scenario);
    const struct brv_site *lesion = &result->site[BRV_LESION];
    const char *heading = *request->title ? request->title : asked;
    const char *below = *request->title ? asked : "";
    const struct figure figures[] = {
        {"temperature",
         {numbers, heading, below, corner, request->layer_name[lesion->tissue.grain.layer],
          quantity(grain, lesion->effect.diameter, brv_unit_find("um")), NULL}},
        {"depth", {boundaries, heading, below, corner, names, NULL}},
    };
    static const char *const kinds[] = {"svg", "png"};
    int drawn = 0;
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
        for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++) {
            char trouble[WORDS_ROOM];
            if (draw(&figures[i], kinds[k], scripts, folder, trouble, sizeof trouble))
                drawn++;
            else if (room && !*reason) /* the first trouble is told: the others are mostly the same */
                snprintf(reason, room, "%s", trouble);
        }
    return drawn;
}
