#define _GNU_SOURCE /* renameat2 */
#include "report/directory.h"

#include "command/command.h"
#include "report/folder.h"
#include "report/leave.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

enum { FIRST_FREE = 3, MOST_NAPS = 3000 };

/* ---- words ---- */

__attribute__((format(printf, 3, 4))) static int refuse(char *reason, size_t room, const char *format, ...)
{
    va_list rest;
    va_start(rest, format);
    if (room) vsnprintf(reason, room, format, rest);
    va_end(rest);
    return BRV_EXIT_FILE;
}

__attribute__((format(printf, 1, 2))) static char *text(const char *format, ...)
{
    char *made;
    va_list rest;
    va_start(rest, format);
    const int n = vasprintf(&made, format, rest);
    va_end(rest);
    return n < 0 ? NULL : made;
}

/* ---- names ---- */

static const char *name_of(const char *target)
{
    const char *slash = strrchr(target, '/');
    return slash ? slash + 1 : target;
}

static char *parent_of(const char *target)
{
    const char *slash = strrchr(target, '/');
    if (!slash) return text(".");
    return slash == target ? text("/") : text("%.*s", (int)(slash - target), target);
}

/* "out/x//" is out/x. */
static char *without_end_slashes(const char *target)
{
    size_t n = strlen(target);
    while (n > 1 && target[n - 1] == '/') n--;
    return text("%.*s", (int)n, target);
}

/* Whether a file's name is `.NAME.part-` and digits; those are then in `process`. */
static bool is_part(const char *file, const char *name, long *process)
{
    const size_t n = strlen(name);
    if (file[0] != '.' || strncmp(file + 1, name, n) || strncmp(file + 1 + n, ".part-", 6)) return false;
    const char *digits = file + 1 + n + 6;
    if (!*digits || digits[strspn(digits, "0123456789")]) return false;
    *process = strtol(digits, NULL, 10);
    return true;
}

/* ---- small deeds on folders ---- */

/* File systems that have no syncing say EINVAL; they cannot do better. */
static int sync_descriptor(int descriptor)
{
    return fsync(descriptor) && errno != EINVAL && errno != EROFS ? -1 : 0;
}

static int sync_path(const char *path)
{
    const int descriptor = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK); /* a pipe that lies there is not waited for */
    if (descriptor < 0) return -1;
    const int failed = sync_descriptor(descriptor);
    const int why = errno;
    close(descriptor);
    errno = why;
    return failed;
}

/* Everything in it, also files that other programs wrote there, then the folder itself. */
static int sync_folder(const char *path)
{
    DIR *folder = opendir(path);
    if (!folder) return -1;
    int failed = 0;
    for (const struct dirent *file; !failed && (file = readdir(folder));) {
        if (!strcmp(file->d_name, ".") || !strcmp(file->d_name, "..")) continue;
        char *inside = text("%s/%s", path, file->d_name);
        failed = inside ? sync_path(inside) : -1;
        free(inside);
    }
    const int why = errno;
    closedir(folder);
    errno = why;
    return failed ? failed : sync_path(path);
}

/* 0: made; 1: was there; -1: cannot be (errno says why). */
static int make_folder(const char *path)
{
    struct stat there;
    if (!stat(path, &there)) {
        errno = ENOTDIR;
        return S_ISDIR(there.st_mode) ? 1 : -1;
    }
    if (!mkdir(path, 0777)) return 0;
    return errno == EEXIST && !stat(path, &there) ? 1 : -1; /* somebody else was quicker */
}

/* Makes a folder and those above it. `*made` bytes of `path` name the topmost that is new; 0: none is. */
static int make_folders(char *path, size_t *made)
{
    *made = 0;
    for (size_t n = *path == '/'; n < strlen(path); n++) {
        n += strcspn(path + n, "/");
        const char after = path[n];
        path[n] = '\0';
        const int outcome = make_folder(path);
        path[n] = after;
        if (outcome < 0) return -1;
        if (outcome == 0 && !*made) *made = n;
        if (!after) break;
    }
    return 0;
}

/* Takes back what make_folders made, as far as nobody has put anything there. */
static void remove_folders(char *path, size_t made)
{
    const int why = errno;
    while (made > 0 && strlen(path) >= made && !rmdir(path)) {
        char *slash = strrchr(path, '/');
        if (!slash) break;
        *slash = '\0';
    }
    errno = why;
}

/* ---- what other runs did ---- */

/* A run locks its folder for as long as it lives; where locks do not work, its process is looked for. A folder of somebody
 * else that cannot be opened is none of ours: it must not keep a name busy for ever.                               */
static bool is_alive(const char *part, long process)
{
    const int descriptor = open(part, BRV_FOLDER_OPEN);
    if (descriptor < 0) return brv_folder_is_own(part) && (!kill((pid_t)process, 0) || errno == EPERM);
    const int locked = flock(descriptor, LOCK_EX | LOCK_NB);
    const bool held = locked && errno == EWOULDBLOCK;
    close(descriptor);
    if (!locked) return false;
    return held || !kill((pid_t)process, 0) || errno == EPERM;
}

/* Whether a folder aside could be of a run at all: one with anything else in it has its name by chance and is let alone. What
 * cannot be opened is asked of is_alive. -1: no memory to look.                                                      */
static int is_of_run(const char *part)
{
    const int leftover = brv_folder_is_leftover(part);
    return leftover >= 0 ? leftover : errno == ENOMEM ? -1 : 1;
}

/* Removes the parts of `name` whose run has gone; returns the process of one that is at work, 0, or -1: no memory to look
 * for it. A parent that may be written but not read hides them; the move into place then lets one of two runs win.  */
static long clear_parts(const char *parent, const char *name)
{
    DIR *folder = opendir(parent);
    if (!folder) return errno == ENOMEM ? -1 : 0;
    long busy = 0, process;
    for (const struct dirent *file; (file = readdir(folder));) {
        if (!is_part(file->d_name, name, &process)) continue;
        char *part = text("%s/%s", parent, file->d_name);
        const int of_run = part ? is_of_run(part) : -1;
        if (of_run < 0)
            busy = busy ? busy : -1;
        else if (of_run && is_alive(part, process))
            busy = process;
        else if (of_run && brv_folder_is_own(part))
            brv_folder_remove(part);
        free(part);
    }
    closedir(folder);
    return busy;
}

/* A run that was killed between its two renames left the old result under this name; a folder that holds anything else has it
 * by chance.                                                                                                         */
static void put_back_old(const char *target, const char *old)
{
    struct stat there;
    char other[BRV_FOLDER_NAME_SIZE];
    if (!brv_folder_is_own(old) || !rmdir(old)) return;
    const int result = brv_folder_is_result(old, other);
    if (lstat(target, &there)) {
        if (result) rename(old, target); /* also where it cannot be looked at: better than to begin beside it */
    } else if (result == 1) {
        brv_folder_remove(old);
    }
}

/* Keeps other runs from looking around while we do, which takes them no time: who holds the lock for seconds is somebody
 * else, and not waited for. Without it two runs may both begin; the move into place still lets one of them win. -1: the
 * folder cannot be opened.                                                                                           */
static int lock_parent(const char *parent)
{
    const struct timespec nap = {.tv_nsec = 1000000};
    const int descriptor = open(parent, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0) return -1;
    for (int i = 0; i < MOST_NAPS && flock(descriptor, LOCK_EX | LOCK_NB); i++) {
        if (errno != EWOULDBLOCK && errno != EINTR) break; /* no locks here */
        nanosleep(&nap, NULL);
    }
    return descriptor;
}

/* ---- the target ---- */

static int check_name(const char *target, char *reason, size_t room)
{
    const char *name = name_of(target);
    if (!*target) return refuse(reason, room, "the directory for the results has an empty name");
    if (!*name || !strcmp(name, ".") || !strcmp(name, ".."))
        return refuse(reason, room, "%s cannot be a directory of results: give it a name of its own", target);
    return 0;
}

/* A folder on which a file system is mounted can be neither moved nor replaced. */
static bool is_mounted(const char *target, const struct stat *there)
{
    struct stat above;
    char *parent = parent_of(target);
    const bool mounted = parent && !stat(parent, &above) && above.st_dev != there->st_dev;
    free(parent);
    return mounted;
}

/* What stands there already: may this run take its place? */
static int check_standing(const char *target, int force, char *reason, size_t room)
{
    struct stat there;
    if (lstat(target, &there)) {
        if (errno == ENOENT) return 0;
        return refuse(reason, room, "%s cannot be looked at: %s", target, strerror(errno));
    }
    if (S_ISLNK(there.st_mode)) return refuse(reason, room, "%s is a link: name the directory it leads to", target);
    if (!S_ISDIR(there.st_mode)) return refuse(reason, room, "%s is there already and is not a directory", target);
    if (is_mounted(target, &there))
        return refuse(reason, room, "%s is a file system of its own, which cannot be replaced: name a directory in it",
                      target);
    char other[BRV_FOLDER_NAME_SIZE];
    const int result = brv_folder_is_result(target, other);
    if (result < 0)
        return refuse(reason, room, "%s%s%s cannot be looked at, so %s is kept: %s", target, *other ? "/" : "", other,
                      target, strerror(errno));
    if (result == 1 && faccessat(AT_FDCWD, target, W_OK | X_OK, AT_EACCESS))
        return refuse(reason, room, "%s may not be changed, so it is kept: %s", target, strerror(errno));
    if (result == 1 && force) return 0;
    if (result == 1) return refuse(reason, room, "%s is there already; --force replaces it", target);
    if (*other) return refuse(reason, room, "%s holds %s, which is no part of a result, so it is kept", target, other);
    return refuse(reason, room,
                  "%s holds other things than results (no " BRV_DIRECTORY_MARK ", " BRV_DIRECTORY_CARD
                  " or " BRV_DIRECTORY_SHEET " of brevis), so it is kept",
                  target);
}

static void let_go(struct brv_directory *directory)
{
    if (directory->lock > 0) close(directory->lock);
    free(directory->target);
    free(directory->part);
    *directory = (struct brv_directory){0};
}

/* Makes the directory aside and holds it. */
static int make_part(struct brv_directory *directory)
{
    if (mkdir(directory->part, 0777)) return -1;
    const int descriptor = open(directory->part, BRV_FOLDER_OPEN);
    if (descriptor >= 0) {
        directory->lock = fcntl(descriptor, F_DUPFD_CLOEXEC, FIRST_FREE); /* 0 means none */
        close(descriptor);
        if (directory->lock > 0) flock(directory->lock, LOCK_EX | LOCK_NB);
    }
    if (directory->lock > 0) {
        brv_leave_remove(directory->part);
        return 0;
    }
    const int why = errno;
    directory->lock = 0;
    rmdir(directory->part);
    errno = why;
    return -1;
}

/* With the parent there and locked. */
static int begin_locked(struct brv_directory *directory, const char *parent, char *reason, size_t room)
{
    const char *target = directory->target, *name = name_of(target);
    char *old = text("%s/.%s.old", parent, name);
    directory->part = text("%s/.%s.part-%ld", parent, name, (long)getpid());
    int code = 0;
    if (!old || !directory->part) {
        code = refuse(reason, room, "%s cannot be made: %s", target, strerror(ENOMEM));
    } else {
        const long busy = clear_parts(parent, name);
        if (busy < 0)
            code = refuse(reason, room, "%s cannot be made: %s", target, strerror(ENOMEM));
        else if (busy)
            code = refuse(reason, room, "%s is being written by another run (process %ld)", target, busy);
        else
            put_back_old(target, old);
    }
    if (!code) code = check_standing(target, directory->force, reason, room);
    if (!code && make_part(directory)) {
        code = refuse(reason, room, "%s cannot be made in %s: %s", name, parent, strerror(errno));
    }
    free(old);
    return code;
}

int brv_directory_begin(struct brv_directory *directory, const char *target, int force, char *reason, size_t room)
{
    *directory = (struct brv_directory){.target = without_end_slashes(target), .force = force};
    char *parent = directory->target ? parent_of(directory->target) : NULL;
    size_t made = 0;
    int code = 0;
    if (!parent) code = refuse(reason, room, "%s cannot be made: %s", target, strerror(ENOMEM));
    if (!code) code = check_name(directory->target, reason, room);
    if (!code && make_folders(parent, &made))
        code = refuse(reason, room, "%s cannot be made: %s: %s", directory->target, parent, strerror(errno));
    if (!code) {
        const int lock = lock_parent(parent);
        if (lock < 0)
            code = refuse(reason, room, "%s cannot be made: %s: %s", directory->target, parent, strerror(errno));
        else
            code = begin_locked(directory, parent, reason, room);
        if (lock >= 0) close(lock);
    }
    if (code) {
        if (parent) remove_folders(parent, made);
        let_go(directory);
    }
    free(parent);
    return code;
}

/* ---- files ---- */

/* In the folder that was made, whatever its name leads to by now, and never through something that stands there already. */
FILE *brv_directory_open(const struct brv_directory *directory, const char *name)
{
    const int file = openat(directory->lock, name, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
    FILE *to = file < 0 ? NULL : fdopen(file, "w");
    const int why = errno;
    if (file >= 0 && !to) close(file);
    errno = why;
    return to;
}

int brv_directory_close(FILE *file)
{
    int why = 0;
    if (ferror(file)) why = EIO; /* its own number is lost by now, but a disk that is full will say so again */
    if ((why && fputc('\n', file) == EOF) || fflush(file) || sync_descriptor(fileno(file))) why = errno;
    if (fclose(file) && !why) why = errno;
    errno = why;
    return why ? -1 : 0;
}

/* ---- into place ---- */

static bool not_offered(int why)
{
    return why == EINVAL || why == ENOSYS || why == ENOTSUP;
}

/* A new target. Where the file system cannot promise that nothing is overwritten, the lock on the parent has to do. */
static int move_in(const char *part, const char *target)
{
    if (!renameat2(AT_FDCWD, part, AT_FDCWD, target, RENAME_NOREPLACE)) return 0;
    if (!not_offered(errno)) return -1;
    struct stat there;
    if (!lstat(target, &there)) {
        errno = EEXIST;
        return -1;
    }
    return rename(part, target);
}

/* In place of an old one, whose path is then in `*leftover`: at any moment one of the two stands whole. */
static int exchange(const char *part, const char *target, const char *old, const char **leftover)
{
    *leftover = part;
    if (!renameat2(AT_FDCWD, part, AT_FDCWD, target, RENAME_EXCHANGE)) return 0;
    if (!not_offered(errno) || rename(target, old)) return -1;
    *leftover = old;
    if (!rename(part, target)) return 0;
    const int why = errno;
    rename(old, target);
    errno = why;
    return -1;
}

/* With the parent locked. The old result goes when the new one is sure to stand. */
static int commit_locked(const struct brv_directory *directory, const char *parent, const char *old, char *reason,
                         size_t room)
{
    const char *target = directory->target, *leftover = NULL;
    const int code = check_standing(target, directory->force, reason, room); /* it may have come meanwhile */
    if (code) return code;
    put_back_old(target, old);
    brv_leave_remove(NULL); /* who is told to go now must not empty what stands in place */
    struct stat there;
    if (lstat(target, &there) ? move_in(directory->part, target) : exchange(directory->part, target, old, &leftover))
        return refuse(reason, room, "%s cannot be put in place: %s", target, strerror(errno));
    if (sync_path(parent))
        return refuse(reason, room, "%s is in place but may not survive a power cut: %s", target, strerror(errno));
    if (!leftover) return 0;
    brv_leave_remove(leftover);
    const int failed = brv_folder_remove(leftover);
    const int why = errno;
    brv_leave_remove(NULL);
    if (failed)
        return refuse(reason, room, "%s is in place, but the old one could not be removed from %s: %s", target,
                      leftover, strerror(why));
    return 0;
}

/* A folder that a later run would not replace is a fault of this program: a name of a file that folder.c does not know. */
static int check_whole(const struct brv_directory *directory, char *reason, size_t room)
{
    char other[BRV_FOLDER_NAME_SIZE];
    const int result = brv_folder_is_result(directory->part, other);
    if (result == 1) return 0;
    if (result < 0) return refuse(reason, room, "%s cannot be written: %s", directory->target, strerror(errno));
    return refuse(reason, room, "%s holds %s, which no result should: a fault of this program", directory->target,
                  *other ? other : "no mark");
}

int brv_directory_commit(struct brv_directory *directory, char *reason, size_t room)
{
    char *parent = parent_of(directory->target);
    char *old = parent ? text("%s/.%s.old", parent, name_of(directory->target)) : NULL;
    int code = 0;
    if (!old || sync_folder(directory->part))
        code = refuse(reason, room, "%s cannot be written: %s", directory->target, strerror(errno));
    if (!code) code = check_whole(directory, reason, room);
    if (!code) {
        const int lock = lock_parent(parent);
        if (lock < 0)
            code = refuse(reason, room, "%s cannot be put in place: %s", directory->target, strerror(errno));
        else
            code = commit_locked(directory, parent, old, reason, room);
        if (lock >= 0) close(lock);
    }
    free(parent);
    free(old);
    if (code)
        brv_directory_abandon(directory);
    else
        let_go(directory);
    return code;
}

void brv_directory_abandon(struct brv_directory *directory)
{
    if (directory->part) {
        brv_folder_remove(directory->part);
        brv_leave_remove(NULL);
    }
    let_go(directory);
}
