#include "report/gnuplot.h"

#include "base/team.h"
#include "report/place.h"
#include "report/seconds.h"

#include <errno.h>
#include <fcntl.h>
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

#define TIME_LIMIT 60.0 /* for one picture, usually drawn in a fifth of a second [s] */

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

/* Waits for a child, ends it when it takes too long. Returns whether it ended well. */
static bool wait_for(pid_t child, bool *too_long)
{
    const double limit = brv_seconds(CLOCK_MONOTONIC) + TIME_LIMIT;
    const struct timespec nap = {.tv_nsec = 5000000};
    int status = 0;
    for (;;) {
        const pid_t done = waitpid(child, &status, *too_long ? 0 : WNOHANG);
        if (done == child) return !*too_long && WIFEXITED(status) && WEXITSTATUS(status) == 0;
        if (done < 0 && errno != EINTR) return false;
        if (done == 0 && brv_seconds(CLOCK_MONOTONIC) > limit) {
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

/* ---- one picture ---- */

/* A name that gnuplot could take for a command starts with < or |; behind ./ it is a name like others. */
static void path_in(char out[PATH_ROOM], const char *folder, const char *before, const char *name, const char *kind,
                    const char *after)
{
    snprintf(out, PATH_ROOM, "%s%s/%s%s.%s%s", *folder == '/' ? "" : "./", folder, before, name, kind, after);
}

/* Draws under a temporary name: a failed script leaves an empty file behind. */
static bool draw_one(const struct brv_figure *figure, const char *kind, const char *scripts, const char *folder,
                     char *reason, size_t room)
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

/* ---- all pictures ---- */

struct drawing {
    const struct brv_figure *figure;
    const char *scripts, *folder;
    bool wanted[BRV_MOST_FIGURES];
    bool drawn[BRV_MOST_FIGURES][N_KIND];
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
    if (drawing->wanted[i])
        drawing->drawn[i][k] = draw_one(&drawing->figure[i], kinds[k], drawing->scripts, drawing->folder,
                                        drawing->trouble[i][k], TROUBLE_ROOM);
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
    if (!drawing) return 0;
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
    free(drawing);
    return drawn;
}
