/* Runs one command again and again, each time with another call for memory that fails, and looks at what is left: a result
 * that was there before must be untouched unless the command succeeded, and then it is the one of a run that had all the
 * memory it wanted.
 *     every_allocation BOX FIRST SECONDS NAME WANTED PROGRAM WORD...
 * WANTED is the exit code with all the memory. BOX is an empty folder of its own. The last calls
 * fail one by one, the first FIRST ones as well, those between a twelfth further each time, until
 * SECONDS of processor time have gone (0: all calls, without a limit). The result, if any, goes to BOX/target; a word that begins with
 * @ lies in BOX; what stands in BOX/parts is laid out as BOX/target.parts first. BREVIS_FAIL_ON and LD_PRELOAD_IN_FRONT (a library for LD_PRELOAD) are handed on.
 * Ends with one line; exit code 0 when all was well.                                                             */
#define _GNU_SOURCE
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <ftw.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum {
    PATH_ROOM = 4096,
    TEXT_ROOM = 1 << 20,
    LAST = 24,
    SLOW = 12,
    STARTUP = 8,
    SANITIZER = 77, /* exit code that allocations.sh asks it for */
    LIMIT = 900     /* [s], for one command */
};

struct trial {
    const char *box, *name;
    char **words;
    int wanted;
    unsigned long calls, startup;
    unsigned long tried, ended_6, ended_4, survived, pictures_lost, startup_ended;
    unsigned failed;
};

static char *in_box(char out[PATH_ROOM], const struct trial *trial, const char *name)
{
    snprintf(out, PATH_ROOM, "%s/%s", trial->box, name);
    return out;
}

static int remove_one(const char *path, const struct stat *about, int kind, struct FTW *where)
{
    (void)about, (void)kind, (void)where;
    return remove(path);
}

static void remove_tree(const char *path)
{
    nftw(path, remove_one, 16, FTW_DEPTH | FTW_PHYS);
}

/* The whole text of a file; NULL when there is none. The caller's to free. */
static char *read_text(const char *path, size_t *size)
{
    FILE *file = fopen(path, "rb");
    char *text = file ? calloc(1, TEXT_ROOM * 8) : NULL;
    *size = text ? fread(text, 1, TEXT_ROOM * 8 - 1, file) : 0;
    if (file) fclose(file);
    return text;
}

static bool same_file(const char *one, const char *other)
{
    size_t n, m;
    char *a = read_text(one, &n), *b = read_text(other, &m);
    const bool same = (!a && !b) || (a && b && n == m && !memcmp(a, b, n));
    free(a);
    free(b);
    return same;
}

static bool is_drawn(const char *name)
{
    const char *dot = strrchr(name, '.');
    return dot && (!strcmp(dot, ".svg") || !strcmp(dot, ".png") || !strcmp(dot, ".html"));
}

/* Every file of `one` stands in `other` with the same bytes; pictures and pages that hold them are left out on demand. */
static bool held_by(const char *one, const char *other, bool without_pictures)
{
    char a[PATH_ROOM * 2], b[PATH_ROOM * 2];
    DIR *folder = opendir(one);
    bool same = true;
    for (const struct dirent *file; folder && (file = readdir(folder));) {
        if (!strcmp(file->d_name, ".") || !strcmp(file->d_name, "..")) continue;
        if (without_pictures && is_drawn(file->d_name)) continue;
        snprintf(a, sizeof a, "%s/%s", one, file->d_name);
        snprintf(b, sizeof b, "%s/%s", other, file->d_name);
        if (access(b, F_OK) || !same_file(a, b)) same = false;
    }
    if (folder) closedir(folder);
    return same;
}

static bool same_folder(const char *one, const char *other, bool without_pictures)
{
    return held_by(one, other, without_pictures) && held_by(other, one, without_pictures);
}

/* ---- one run ---- */

static void write_text(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    if (!file || fputs(text, file) < 0 || fclose(file)) exit(99);
}

/* A result that was there before. */
static void lay_out_old(const char *target)
{
    char path[PATH_ROOM + 32];
    remove_tree(target);
    mkdir(target, 0777);
    snprintf(path, sizeof path, "%s/summary.json", target);
    write_text(path, "{\"old\": \"brevis\"}\n");
}

/* The sanitizer's own options once more, so that a leak is told with all of its stack, and one that a library has when it
 * gets no memory (known_leaks.txt) is let go. Takes longer: only where something was complained about.            */
static void look_closely(void)
{
    char options[PATH_ROOM];
    const char *usual = getenv("ASAN_OPTIONS"), *known = getenv("BREVIS_KNOWN_LEAKS");
    snprintf(options, sizeof options, "%s:fast_unwind_on_malloc=0", usual ? usual : "");
    setenv("ASAN_OPTIONS", options, 1);
    snprintf(options, sizeof options, "print_suppressions=0:suppressions=%s", known ? known : "/dev/null");
    setenv("LSAN_OPTIONS", options, 1);
}

/* Exit code, or 1000 and the signal. `at` 0: nothing fails. */
static int run(const struct trial *trial, unsigned long at, bool closely)
{
    char number[32], path[PATH_ROOM];
    int status = 0;
    const pid_t child = fork();
    if (!child) {
        if (!freopen(in_box(path, trial, "stdout"), "w", stdout)) _exit(99);
        if (!freopen(in_box(path, trial, "stderr"), "w", stderr)) _exit(99);
        if (!freopen("/dev/null", "r", stdin)) _exit(99);
        snprintf(number, sizeof number, "%lu", at);
        setenv("BREVIS_FAIL_AT", number, 1);
        setenv("BREVIS_FAIL_COUNT", in_box(path, trial, "count"), 1);
        const char *before = getenv("LD_PRELOAD_IN_FRONT");
        if (before) setenv("LD_PRELOAD", before, 1);
        if (closely) look_closely();
        alarm(LIMIT);
        execv(trial->words[0], trial->words);
        _exit(98);
    }
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) continue;
    return WIFEXITED(status) ? WEXITSTATUS(status) : 1000 + WTERMSIG(status);
}

/* ---- what is expected of it ---- */

static void complain(struct trial *trial, unsigned long at, int code, const char *what)
{
    char path[PATH_ROOM];
    size_t n;
    char *said = read_text(in_box(path, trial, "stderr"), &n);
    trial->failed++;
    if (trial->failed < 6)
        printf("FAILED: %s: call %lu fails: exit %d: %s\n%.3000s\n", trial->name, at, code, what, said ? said : "");
    free(said);
}

/* Beside the target and what this driver keeps nothing may stand; the points of a sweep are kept on purpose. */
static bool nothing_beside(const struct trial *trial)
{
    static const char *const own[] = {".",      "..",           "stdout", "stderr",       "count",
                                      "target", "target.parts", "whole",  "whole.stdout", "whole.stderr",
                                      "parts"};
    DIR *folder = opendir(trial->box);
    bool clean = true;
    for (const struct dirent *file; folder && (file = readdir(folder));) {
        bool known = false;
        for (size_t i = 0; i < sizeof own / sizeof *own; i++) known |= !strcmp(file->d_name, own[i]);
        clean &= known;
    }
    if (folder) closedir(folder);
    return clean;
}

static void judge(struct trial *trial, unsigned long at, int code)
{
    char target[PATH_ROOM], whole[PATH_ROOM], a[PATH_ROOM], b[PATH_ROOM];
    size_t n;
    char *said = read_text(in_box(a, trial, "stderr"), &n);
    in_box(target, trial, "target");
    in_box(whole, trial, "whole");
    const char *wrong = NULL;
    if (strstr(said, "Sanitizer") || strstr(said, "runtime error"))
        wrong = "the sanitizer complains";
    else if (code == trial->wanted) {
        const bool lost = strstr(said, "figures are missing: ") && strstr(said, "memory");
        trial->survived++;
        trial->pictures_lost += lost;
        if (!same_folder(target, whole, lost))
            wrong = "it succeeded with another result";
        else if (!lost && !same_file(in_box(a, trial, "stdout"), in_box(b, trial, "whole.stdout")))
            wrong = "it succeeded and said something else on standard output";
        else if (code && !same_file(in_box(a, trial, "stderr"), in_box(b, trial, "whole.stderr")))
            wrong = "it lists other faults";
    } else if (code == 6 || code == 4) {
        code == 6 ? trial->ended_6++ : trial->ended_4++;
        char old[PATH_ROOM + 32];
        snprintf(old, sizeof old, "%s/summary.json", target);
        char *there = read_text(old, &n);
        if (!*said || !strchr(said, '\n'))
            wrong = "it says nothing";
        else if (code == 4 && !strstr(said, "memory"))
            wrong = "it does not say that memory is the reason";
        else if (!there || strcmp(there, "{\"old\": \"brevis\"}\n"))
            wrong = "the old result is not what it was";
        free(there);
    } else if (code == 1 && at <= trial->startup && strstr(said, "libgomp: ")) {
        trial->startup_ended++; /* libgomp's own start, before main: nothing of ours has run */
    } else
        wrong = "this exit code is not expected";
    if (!wrong && !nothing_beside(trial)) wrong = "something is left beside the target";
    if (wrong) complain(trial, at, code, wrong);
    free(said);
}

static int run_once(const struct trial *trial, unsigned long at, bool closely)
{
    char target[PATH_ROOM], parts[PATH_ROOM], kept[PATH_ROOM], command[3 * PATH_ROOM];
    in_box(target, trial, "target");
    in_box(parts, trial, "target.parts");
    in_box(kept, trial, "parts");
    lay_out_old(target);
    remove_tree(parts);
    if (!access(kept, F_OK)) { /* points of a run that was ended, to go on with */
        snprintf(command, sizeof command, "cp -r '%s' '%s'", kept, parts);
        if (system(command)) exit(99);
    }
    return run(trial, at, closely);
}

static void try(struct trial *trial, unsigned long at)
{
    int code = run_once(trial, at, false);
    if (code == SANITIZER) code = run_once(trial, at, true);
    trial->tried++;
    judge(trial, at, code);
}

static bool prepare(struct trial *trial)
{
    char target[PATH_ROOM], path[PATH_ROOM], other[PATH_ROOM];
    size_t n;
    in_box(target, trial, "target");
    lay_out_old(target);
    in_box(path, trial, "parts");
    if (!access(path, F_OK)) {
        char command[3 * PATH_ROOM];
        snprintf(command, sizeof command, "cp -r '%s' '%s'", path, in_box(other, trial, "target.parts"));
        if (system(command)) exit(99);
    }
    const int code = run(trial, 0, false);
    char *count = read_text(in_box(path, trial, "count"), &n);
    trial->calls = count ? strtoul(count, NULL, 10) : 0;
    free(count);
    if (code != trial->wanted || !trial->calls) {
        complain(trial, 0, code, "it does not even work with all memory");
        return false;
    }
    rename(target, in_box(path, trial, "whole"));
    rename(in_box(path, trial, "stdout"), in_box(other, trial, "whole.stdout"));
    rename(in_box(path, trial, "stderr"), in_box(other, trial, "whole.stderr"));
    return true;
}

/* What the runs took of a processor: another program beside them changes nothing about what is tried. */
static double seconds(void)
{
    struct rusage used;
    getrusage(RUSAGE_CHILDREN, &used);
    return (double)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
           1e-6 * (double)(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
}

int main(int argc, char *argv[])
{
    if (argc < 7) return 99;
    struct trial trial = {
        .box = argv[1], .name = argv[4], .words = argv + 6, .wanted = atoi(argv[5]), .startup = STARTUP};
    for (int i = 6; i < argc; i++)
        if (*argv[i] == '@')
            argv[i] = strcat(strcpy(calloc(1, PATH_ROOM), argv[1]), argv[i]), *strrchr(argv[i], '@') = '/';
    const unsigned long first = strtoul(argv[2], NULL, 10);
    double limit = strtod(argv[3], NULL);
    unsigned long at = 1;
    bool missed = false;
    setvbuf(stdout, NULL, _IOLBF, 0);
    if (prepare(&trial)) {
        /* The last calls, where the result is moved into place, from the end; then from the first on. */
        const double half = seconds() + 0.5 * limit; /* the first run is not counted */
        unsigned long last = trial.calls;
        const bool slow = limit > 0.0 && seconds() > SLOW; /* its last calls are left to FULL, and to a faster build */
        for (; !slow && last > 0 && last + LAST > trial.calls &&
               (limit <= 0.0 || seconds() < half || last + 2 > trial.calls);
             last--)
            try(&trial, last);
        const double whole = seconds() + 0.5 * limit;
        for (; at <= last && (limit <= 0.0 || seconds() < whole); at += at < first || limit <= 0.0 ? 1 : 1 + at / 12)
            try(&trial, at);
        missed = at <= last;
    }
    printf("%s %s: %lu calls, %lu of them failed in turn%s: %lu times exit 6, %lu times 4, %lu survived (%lu without "
           "pictures), %lu in the start of libgomp; %u wrong, %.0f s\n",
           trial.failed ? "FAIL" : "ok  ", trial.name, trial.calls, trial.tried, missed ? " when time was up" : "",
           trial.ended_6, trial.ended_4, trial.survived, trial.pictures_lost, trial.startup_ended, trial.failed,
           seconds());
    return trial.failed != 0;
}
