#include "report/folder.h"

#include "report/directory.h"
#include "report/leave.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <unistd.h>

enum {
    MOST_DEPTH = 32,    /* of folders in one that is removed; a result has none */
    HEAD_ROOM = 1 << 16 /* a card names the program at its end [bytes] */
};

/* ---- removing ---- */

/* Empties an open folder, which it closes. Each name is looked at in the folder that is open, and no link is followed: who may
 * write there cannot lead it elsewhere half way.                                                                       */
static int empty_folder(int folder, int depth)
{
    DIR *list = folder < 0 ? NULL : fdopendir(folder);
    int failed = list ? 0 : -1;
    if (!list && folder >= 0) close(folder);
    for (const struct dirent *file; list && (file = readdir(list));) {
        if (!strcmp(file->d_name, ".") || !strcmp(file->d_name, "..")) continue;
        if (!unlinkat(folder, file->d_name, 0)) continue;
        const int below = depth ? openat(folder, file->d_name, BRV_FOLDER_OPEN) : -1;
        if (below < 0 || empty_folder(below, depth - 1) || unlinkat(folder, file->d_name, AT_REMOVEDIR)) failed = -1;
    }
    if (list) closedir(list);
    return failed;
}

/* A link is removed, not what it leads to. */
int brv_folder_remove(const char *path)
{
    if (!unlink(path)) return 0;
    if (empty_folder(open(path, BRV_FOLDER_OPEN), MOST_DEPTH))
        brv_leave_empty(path); /* which takes the folder with it */
    return rmdir(path) && errno != ENOENT ? -1 : 0;
}

/* ---- what may be replaced ---- */

/* Does the file begin as this program writes it? Others call files card.html too. -1: it cannot be looked at (errno says why),
 * which is no answer to the question. A file that has gone meanwhile, or is a link by now, is none of ours.            */
static int is_ours(int folder, const char *name)
{
    const int file = openat(folder, name, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0) return errno == ENOENT || errno == ELOOP ? 0 : -1;
    char *head = malloc(HEAD_ROOM + 1);
    const ssize_t n = head ? read(file, head, HEAD_ROOM) : -1;
    const int why = errno;
    if (n >= 0) head[n] = '\0';
    const int ours = n < 0 ? -1 : strstr(head, "brevis") != NULL;
    free(head);
    close(file);
    errno = why;
    return ours;
}

/* May a result hold a file of this name? All that any command writes: tables, with the pictures drawn from them, and texts. An
 * ending alone would not do: people keep measurements of their own as .csv and .txt. A name that is missing here is told by
 * the run that writes it (report/directory.c), and so by most tests.                                                    */
static bool is_kind(const char *name)
{
    static const char *const tables[] = {"beside",       "compare",     "depth",     "disrupted",   "dose",
                                         "draws",        "grain",       "histogram", "inputs",      "lesson_answer",
                                         "lesson_guess", "map",         "numbers",   "ranking",     "readings",
                                         "reflectance",  "reported",    "slips",     "spots",       "spread",
                                         "sweep",        "sweep_curve", "sweep_map", "temperature", "thresholds",
                                         "train",        "visibility",  "visits",    "window"};
    static const char *const texts[] = {"answers.html", "answers.txt", "card.html",    "card.txt",   "handout.html",
                                        "handout.txt",  "report.html", "summary.json", "summary.txt"};
    const char *dot = strrchr(name, '.');
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        if (!strcmp(name, texts[i])) return true;
    if (!dot || (strcmp(dot, ".csv") && strcmp(dot, ".svg") && strcmp(dot, ".png"))) return false;
    for (size_t i = 0; i < sizeof tables / sizeof *tables; i++)
        if (strlen(tables[i]) == (size_t)(dot - name) && !strncmp(name, tables[i], strlen(tables[i]))) return true;
    return false;
}

/* One file of a folder: 1, it is a mark of this program; 0, it is no mark, but may stand in a result; -1, it cannot be looked at
 * (errno says why); -2, no result holds it.                                                                           */
static int file_says(int folder, const char *name)
{
    static const char *const marks[] = {BRV_DIRECTORY_MARK, BRV_DIRECTORY_CARD, BRV_DIRECTORY_SHEET};
    struct stat there;
    if (!is_kind(name)) return -2;
    if (fstatat(folder, name, &there, AT_SYMLINK_NOFOLLOW)) return errno == ENOENT ? 0 : -1;
    if (!S_ISREG(there.st_mode)) return -2;
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (!strcmp(name, marks[i])) return is_ours(folder, name);
    return 0;
}

int brv_folder_is_result(const char *path, char other[BRV_FOLDER_NAME_SIZE])
{
    const int folder = open(path, BRV_FOLDER_OPEN);
    DIR *list = folder < 0 ? NULL : fdopendir(folder);
    bool marked = false;
    int says = 0, why = errno;
    size_t n = 0;
    *other = '\0';
    if (!list && folder >= 0) close(folder);
    for (const struct dirent *file; says >= 0 && list && (file = readdir(list));) {
        if (!strcmp(file->d_name, ".") || !strcmp(file->d_name, "..")) continue;
        n++;
        says = file_says(folder, file->d_name);
        why = errno;
        marked |= says == 1;
        if (says < 0) snprintf(other, BRV_FOLDER_NAME_SIZE, "%s", file->d_name);
    }
    if (list) closedir(list);
    errno = why;
    if (!list || says == -1) return -1;
    return says >= 0 && (marked || n == 0);
}

/* A picture is drawn as `.NAME.svg.part` and renamed when it is whole (report/gnuplot.c). */
static bool is_picture_aside(const char *name)
{
    char whole[BRV_FOLDER_NAME_SIZE];
    const size_t n = strlen(name), ending = sizeof ".part" - 1;
    if (*name != '.' || n <= 1 + ending || strcmp(name + n - ending, ".part")) return false;
    snprintf(whole, sizeof whole, "%.*s", (int)(n - 1 - ending), name + 1);
    return is_kind(whole);
}

int brv_folder_is_leftover(const char *path)
{
    const int folder = open(path, BRV_FOLDER_OPEN);
    DIR *list = folder < 0 ? NULL : fdopendir(folder);
    const int why = errno;
    struct stat there;
    bool ours = true;
    if (!list && folder >= 0) close(folder);
    for (const struct dirent *file; ours && list && (file = readdir(list));) {
        if (!strcmp(file->d_name, ".") || !strcmp(file->d_name, "..")) continue;
        if (fstatat(folder, file->d_name, &there, AT_SYMLINK_NOFOLLOW)) continue; /* gone meanwhile */
        ours = S_ISREG(there.st_mode) && (is_kind(file->d_name) || is_picture_aside(file->d_name));
    }
    if (list) closedir(list);
    errno = why;
    return list ? ours : -1;
}

bool brv_folder_is_own(const char *path)
{
    struct stat there;
    return !lstat(path, &there) && S_ISDIR(there.st_mode) && there.st_uid == geteuid();
}
