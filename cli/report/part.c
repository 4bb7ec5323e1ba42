#include "report/part.h"

#include "command/command.h"
#include "report/folder.h"
#include "report/part_lines.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

enum { NAME_SIZE = 32 };

/* The bytes of a file with one more behind them. NULL when it cannot be read (errno says why). */
static char *load(int file, size_t *size)
{
    struct stat about;
    if (fstat(file, &about)) return NULL;
    if (!S_ISREG(about.st_mode) || about.st_size > (off_t)(BRV_N_SITE * (off_t)BRV_PART_LINE_SIZE * 20000)) {
        errno = EFBIG;
        return NULL;
    }
    char *text = malloc((size_t)about.st_size + 1);
    *size = 0;
    for (ssize_t got = 1; text && got > 0 && *size<(size_t)about.st_size; *size += got> 0 ? (size_t)got : 0) {
        got = pread(file, text + *size, (size_t)about.st_size - *size, (off_t)*size);
        if (got < 0) {
            free(text);
            return NULL;
        }
    }
    if (text) text[*size] = '\0';
    return text;
}

/* ---- one part, written ---- */

static int trouble(const char *path, const char *what, struct brv_faults *faults)
{
    brv_faults_add(faults, path, 0, 0, "%s: %s", what, strerror(errno));
    return BRV_EXIT_FILE;
}

/* The folder and those above it. */
static int make_folders(const char *folder)
{
    char *path = strdup(folder);
    int failed = path ? 0 : -1;
    for (char *slash = path ? path + 1 : NULL; slash && !failed; slash = *slash ? slash + 1 : NULL) {
        slash += strcspn(slash, "/");
        const char after = *slash;
        *slash = '\0';
        failed = mkdir(path, 0777) && errno != EEXIST ? -1 : 0;
        *slash = after;
    }
    free(path);
    return failed;
}

static int sync_file(int file)
{
    return fsync(file) && errno != EINVAL && errno != EROFS ? -1 : 0;
}

/* The folder of the parts, open; -1 with a fault. A link there could lead anywhere. */
static int open_folder(const char *folder, const char *what, struct brv_faults *faults)
{
    struct stat there;
    const int file = open(folder, BRV_FOLDER_OPEN);
    if (file >= 0) return file;
    const int why = errno;
    if (!lstat(folder, &there) && S_ISLNK(there.st_mode)) {
        brv_faults_add(faults, folder, 0, 0, "is a link, which is not followed");
        return -1;
    }
    errno = why;
    trouble(folder, what, faults);
    return -1;
}

static int write_whole(int file, const char *text, size_t size)
{
    for (size_t n = 0; n < size;) {
        const ssize_t wrote = write(file, text + n, size - n);
        if (wrote < 0 && errno != EINTR) return -1;
        if (wrote > 0) n += (size_t)wrote;
    }
    return sync_file(file);
}

/* Appends, or leaves the file as it was. */
static int append(struct brv_part *part, const char *text, size_t size, struct brv_faults *faults)
{
    if (!write_whole(part->file, text, size)) {
        part->whole += (long long)size;
        return 0;
    }
    const int code = trouble(part->path, "cannot be written", faults);
    if (ftruncate(part->file, (off_t)part->whole)) return code; /* the next run drops what is torn */
    return code;
}

/* From the end of what is good on. */
static int rewind_to(struct brv_part *part, long long whole, struct brv_faults *faults)
{
    char head[BRV_PART_HEAD_SIZE];
    part->whole = whole;
    if (ftruncate(part->file, (off_t)whole)) return trouble(part->path, "cannot be written", faults);
    if (whole) return 0;
    brv_part_write_head(head, &part->head);
    return append(part, head, strlen(head), faults);
}

static int resume(struct brv_part *part, bool force, struct brv_headlines rows[], struct brv_faults *faults)
{
    struct brv_faults found = {.n = 0};
    struct brv_part_held held;
    size_t size;
    char *text = load(part->file, &size);
    if (!text) return trouble(part->path, "cannot be read", faults);
    brv_part_read(&held, part->path, text, size, &part->head, rows, &found);
    free(text);
    const bool anew = held.empty || found.n;
    if (found.n && !force) {
        for (size_t i = 0; i < found.n; i++)
            brv_faults_add(faults, found.fault[i].file, found.fault[i].line, found.fault[i].column, "%s",
                           found.fault[i].text);
        brv_faults_add(faults, part->path, 0, 0,
                       "is kept as it is; --force begins it anew, --out puts results elsewhere");
    }
    const bool refused = found.n && !force;
    brv_faults_free(&found);
    if (refused) return BRV_EXIT_FILE;
    part->done = anew ? 0 : held.n;
    return rewind_to(part, anew ? 0 : held.whole, faults);
}

/* What is gone on with is written to and counted among the own numbers: only a plain file of who runs this, which has no second
 * name elsewhere. One that was made a moment ago is.                                                                */
static int check_standing(const struct brv_part *part, struct brv_faults *faults)
{
    struct stat there;
    if (fstat(part->file, &there)) return trouble(part->path, "cannot be looked at", faults);
    if (S_ISREG(there.st_mode) && there.st_nlink == 1 && there.st_uid == geteuid()) return 0;
    brv_faults_add(faults, part->path, 0, 0, "%s, so it is kept; --out puts results elsewhere",
                   !S_ISREG(there.st_mode) ? "is no plain file"
                   : there.st_nlink != 1   ? "has another name elsewhere"
                                           : "belongs to somebody else");
    return BRV_EXIT_FILE;
}

static int open_in(struct brv_part *part, int folder, struct brv_faults *faults)
{
    const int how = O_RDWR | O_APPEND | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK;
    const char *name = strrchr(part->path, '/') + 1;
    int file = openat(folder, name, how | O_CREAT | O_EXCL, 0666);
    const bool anew = file >= 0;
    if (!anew && errno == EEXIST) file = openat(folder, name, how);
    if (file < 0) return trouble(part->path, "cannot be opened", faults);
    part->file = fcntl(file, F_DUPFD_CLOEXEC, 3); /* 0 means none */
    close(file);
    if (part->file < 0) {
        part->file = 0;
        return trouble(part->path, "cannot be opened", faults);
    }
    sync_file(folder);
    return anew ? 0 : check_standing(part, faults);
}

static int open_file(struct brv_part *part, const char *folder, struct brv_faults *faults)
{
    const size_t room = strlen(folder) + NAME_SIZE;
    part->path = malloc(room);
    if (!part->path) return trouble(folder, "cannot be made", faults);
    snprintf(part->path, room, "%s/%u_of_%u", folder, part->head.part, part->head.parts);
    if (make_folders(folder)) return trouble(folder, "cannot be made", faults);
    const int there = open_folder(folder, "cannot be opened", faults);
    if (there < 0) return BRV_EXIT_FILE;
    const int code = open_in(part, there, faults);
    close(there);
    if (code) return code;
    if (!flock(part->file, LOCK_EX | LOCK_NB) || errno != EWOULDBLOCK) return 0;
    brv_faults_add(faults, part->path, 0, 0, "another run is writing it");
    return BRV_EXIT_FILE;
}

int brv_part_open(struct brv_part *part, const char *folder, const struct brv_part_head *head, bool force,
                  struct brv_headlines rows[], struct brv_faults *faults)
{
    *part = (struct brv_part){.head = *head, .n = brv_part_points(head)};
    int code = open_file(part, folder, faults);
    if (!code) code = resume(part, force, rows, faults);
    if (code) brv_part_close(part);
    return code;
}

size_t brv_part_point(const struct brv_part *part, size_t k)
{
    return brv_part_number(&part->head, k);
}

int brv_part_add(struct brv_part *part, const struct brv_headlines rows[], size_t n, struct brv_faults *faults)
{
    char *text = malloc(n * BRV_PART_LINE_SIZE + 1);
    size_t size = 0;
    if (!text) return trouble(part->path, "cannot be written", faults);
    for (size_t i = 0; i < n; i++)
        size += brv_part_write_point(text + size, brv_part_point(part, part->done + i), &rows[i]);
    const int code = append(part, text, size, faults);
    if (!code) part->done += n;
    free(text);
    return code;
}

void brv_part_remove(struct brv_part *part)
{
    if (!part->path) return;
    char *name = strrchr(part->path, '/');
    *name = '\0';
    const int folder = open(part->path, BRV_FOLDER_OPEN);
    if (folder >= 0) {
        unlinkat(folder, name + 1, 0);
        close(folder);
    }
    rmdir(part->path); /* stays when other parts stand there */
    brv_part_close(part);
}

void brv_part_close(struct brv_part *part)
{
    if (part->file > 0) close(part->file);
    free(part->path);
    *part = (struct brv_part){.path = NULL};
}

/* ---- all parts, read ---- */

/* "2_of_3" */
static bool is_part(const char *name, unsigned *part, unsigned *parts)
{
    char again[NAME_SIZE], *end;
    const unsigned long one = strtoul(name, &end, 10), all = strncmp(end, "_of_", 4) ? 0 : strtoul(end + 4, NULL, 10);
    if (one < 1 || one > all || all > 100000) return false;
    *part = (unsigned)one;
    *parts = (unsigned)all;
    snprintf(again, sizeof again, "%u_of_%u", *part, *parts);
    return !strcmp(name, again);
}

/* How many parts there are: those of which most files are there, of equals the fewest. 0: no part at all. */
static unsigned count_parts(const char *folder, int descriptor, struct brv_faults *faults)
{
    enum { MOST_KINDS = 16 };
    unsigned kind[MOST_KINDS] = {0}, there[MOST_KINDS] = {0}, part, parts;
    size_t n = 0, best = 0;
    const int again = fcntl(descriptor, F_DUPFD_CLOEXEC, 0);
    DIR *all = again < 0 ? NULL : fdopendir(again);
    if (!all) {
        trouble(folder, "cannot be read", faults);
        if (again >= 0) close(again);
        return 0;
    }
    for (const struct dirent *file; (file = readdir(all));) {
        size_t i = 0;
        if (!is_part(file->d_name, &part, &parts)) continue;
        while (i < n && kind[i] != parts) i++;
        if (i == n && n < MOST_KINDS) kind[n++] = parts;
        if (i < n) there[i]++;
    }
    closedir(all);
    for (size_t i = 1; i < n; i++)
        if (there[i] > there[best] || (there[i] == there[best] && kind[i] < kind[best])) best = i;
    for (size_t i = 0; i < n; i++)
        if (i != best)
            brv_faults_add(faults, folder, 0, 0, "holds parts of %u beside those of %u; one kind is wanted", kind[i],
                           kind[best]);
    if (!n) brv_faults_add(faults, folder, 0, 0, "holds no parts; they are written there by --part I/N");
    return n ? kind[best] : 0;
}

static void join_one(const char *path, int folder, const struct brv_part_head *head, struct brv_headlines rows[],
                     struct brv_faults *faults)
{
    struct brv_part_held held;
    size_t size = 0;
    const size_t before = faults->n;
    const int file = openat(folder, strrchr(path, '/') + 1, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
    char *text = file < 0 ? NULL : load(file, &size);
    const int why = errno;
    if (file >= 0) close(file);
    errno = why;
    if (!text && file < 0 && why == ENOENT) {
        brv_faults_add(faults, path, 0, 0, "is missing; --part %u/%u writes it", head->part, head->parts);
        return;
    }
    if (!text) {
        trouble(path, "cannot be read", faults);
        return;
    }
    brv_part_read(&held, path, text, size, head, rows, faults);
    free(text);
    if (held.torn) brv_faults_add(faults, path, (int)held.line, 1, "this line is cut off");
    if (held.n < brv_part_points(head) && (faults->n == before || held.torn))
        brv_faults_add(faults, path, 0, 0, "has %zu of %zu points; --part %u/%u goes on with it", held.n,
                       brv_part_points(head), head->part, head->parts);
}

int brv_part_join(const char *folder, const struct brv_part_head *head, struct brv_headlines rows[],
                  struct brv_faults *faults)
{
    const size_t before = faults->n, room = strlen(folder) + NAME_SIZE;
    struct brv_part_head wanted = *head;
    char *path = malloc(room);
    if (!path) return trouble(folder, "cannot be read", faults);
    const int there = open_folder(folder, "no parts can be read, which are written there by --part I/N", faults);
    wanted.parts = there < 0 ? 0 : count_parts(folder, there, faults);
    for (wanted.part = 1; wanted.part <= wanted.parts; wanted.part++) {
        snprintf(path, room, "%s/%u_of_%u", folder, wanted.part, wanted.parts);
        join_one(path, there, &wanted, rows, faults);
    }
    if (there >= 0) close(there);
    free(path);
    return faults->n > before || faults->out_of_memory ? BRV_EXIT_FILE : BRV_EXIT_DONE;
}
