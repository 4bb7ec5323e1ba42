#include "report/part.h"

#include "command/command.h"
#include "report/number.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

enum {
    N_NUMBER = BRV_N_SITE * BRV_N_HEADLINE * 3,
    HEAD_SIZE = 256,
    SUM_SIZE = 17,
    LINE_SIZE = 32 + N_NUMBER * 32,
    NAME_SIZE = 32,
    MOST_LISTED = 20
};

/* ---- lines ---- */

static void sum_of(char out[SUM_SIZE], const char *text, size_t length)
{
    uint64_t hash = 14695981039346656037u;
    for (size_t i = 0; i < length; i++) hash = (hash ^ (unsigned char)text[i]) * 1099511628211u;
    snprintf(out, SUM_SIZE, "%016" PRIx64, hash);
}

/* The numbers of a point as one row, in the order of the file. */
static double *number_at(struct brv_headlines *row, size_t i)
{
    struct brv_spread *spread = &row->at[i / 3 / BRV_N_HEADLINE][i / 3 % BRV_N_HEADLINE];
    return i % 3 == 0 ? &spread->value : i % 3 == 1 ? &spread->low : &spread->high;
}

static size_t write_point(char line[LINE_SIZE], size_t point, const struct brv_headlines *row)
{
    char text[BRV_NUMBER_SIZE], sum[SUM_SIZE];
    struct brv_headlines copy = *row;
    size_t n = (size_t)snprintf(line, LINE_SIZE, "%zu,", point);
    for (size_t i = 0; i < N_NUMBER; i++)
        n += (size_t)snprintf(line + n, LINE_SIZE - n, "%s,", brv_number_exact(text, *number_at(&copy, i)));
    sum_of(sum, line, n);
    return n + (size_t)snprintf(line + n, LINE_SIZE - n, "%s\n", sum);
}

static void write_head(char line[HEAD_SIZE], const struct brv_part_head *head)
{
    char sum[SUM_SIZE];
    const size_t n = (size_t)snprintf(
        line, HEAD_SIZE - SUM_SIZE - 1, "brevis part 1, program %s, scenario %s, sweep %s, points %zu, part %u of %u; ",
        head->version, head->scenario, head->sweep, head->points, head->part, head->parts);
    sum_of(sum, line, n);
    snprintf(line + n, HEAD_SIZE - n, "%s\n", sum);
}

/* Does the line end with its own sum? */
static bool sum_holds(const char *line, size_t length)
{
    char sum[SUM_SIZE];
    const size_t n = SUM_SIZE - 1;
    if (length < n) return false;
    sum_of(sum, line, length - n);
    return !memcmp(line + length - n, sum, n);
}

/* One number up to the next comma; NULL when it is none. */
static const char *read_number(double *value, const char *text)
{
    char *end;
    if (*text == ',') {
        *value = (double)NAN;
        return text + 1;
    }
    *value = strtod(text, &end);
    return end > text && *end == ',' ? end + 1 : NULL;
}

/* "5,NUMBERS,SUM" whose sum holds; false when something else stands there. */
static bool read_point(const char *line, size_t *point, struct brv_headlines *row)
{
    char *end;
    *point = strtoull(line, &end, 10);
    if (end == line || *end != ',') return false;
    const char *at = end + 1;
    for (size_t i = 0; i < N_NUMBER; i++)
        if (!(at = read_number(number_at(row, i), at))) return false;
    return strlen(at) == SUM_SIZE - 1;
}

/* ---- a file of them ---- */

/* What a part holds, as far as it is good. */
struct held {
    size_t n;         /* points */
    long long whole;  /* bytes */
    bool empty, torn; /* no whole first line; a last line that was cut off */
    size_t line;      /* where the torn one stands */
};

static size_t points_of(const struct brv_part_head *head)
{
    return head->points < head->part ? 0 : (head->points - head->part) / head->parts + 1;
}

static size_t point_of(const struct brv_part_head *head, size_t k)
{
    return head->part - 1 + k * head->parts;
}

/* What a first line says, word by word. */
enum head_word { PROGRAM, SCENARIO, SWEEP, POINTS, PART, PARTS, N_WORD };
struct head_words {
    char word[N_WORD][64];
};

/* False when the line is none that a part begins with. */
static bool split_head(struct head_words *words, const char *line)
{
    static const char *const before[N_WORD] = {
        "brevis part 1, program ", ", scenario ", ", sweep ", ", points ", ", part ", " of "};
    for (size_t i = 0; i < N_WORD; i++) {
        if (strncmp(line, before[i], strlen(before[i])) != 0) return false;
        line += strlen(before[i]);
        const size_t length = strcspn(line, ",; ");
        if (length == 0 || length >= sizeof words->word[i]) return false;
        snprintf(words->word[i], sizeof words->word[i], "%.*s", (int)length, line);
        line += length;
    }
    return *line == ';';
}

/* A line that was found may hold anything; its words are told. */
static bool split_found(struct head_words *words, const char *line)
{
    char shown[BRV_SHOWN_SIZE];
    if (!split_head(words, line)) return false;
    for (size_t i = 0; i < N_WORD; i++)
        snprintf(words->word[i], sizeof words->word[i], "%.*s", (int)sizeof words->word[i] - 1,
                 brv_fault_shown(shown, words->word[i]));
    return true;
}

/* What differs between the first line found and the one that is wanted. */
static void list_head(const char *path, const char *found, const struct brv_part_head *head, struct brv_faults *faults)
{
    char wanted[HEAD_SIZE], shown[BRV_SHOWN_SIZE];
    struct head_words is, want;
    write_head(wanted, head);
    if (!split_found(&is, found) || !split_head(&want, wanted)) {
        brv_faults_add(faults, path, 1, 1, "%s: the first line of a part is wanted", brv_fault_shown(shown, found));
        return;
    }
    const size_t before = faults->n;
    if (strcmp(is.word[PROGRAM], want.word[PROGRAM]) != 0)
        brv_faults_add(faults, path, 1, 1, "written by brevis %s, wanted %s: the same version for all points",
                       is.word[PROGRAM], want.word[PROGRAM]);
    if (strcmp(is.word[SCENARIO], want.word[SCENARIO]) != 0)
        brv_faults_add(faults, path, 1, 1, "belongs to scenario %s, wanted %s", is.word[SCENARIO], want.word[SCENARIO]);
    if (strcmp(is.word[SWEEP], want.word[SWEEP]) != 0 || strcmp(is.word[POINTS], want.word[POINTS]) != 0)
        brv_faults_add(faults, path, 1, 1,
                       "belongs to other keys or values (sweep %s, %s points), wanted %s, %s points", is.word[SWEEP],
                       is.word[POINTS], want.word[SWEEP], want.word[POINTS]);
    if (strcmp(is.word[PART], want.word[PART]) != 0 || strcmp(is.word[PARTS], want.word[PARTS]) != 0)
        brv_faults_add(faults, path, 1, 1, "holds part %s of %s, wanted %s of %s", is.word[PART], is.word[PARTS],
                       want.word[PART], want.word[PARTS]);
    if (faults->n == before) brv_faults_add(faults, path, 1, 1, "the first line is damaged: its sum does not fit");
}

/* One line of numbers, the k-th; false when it is not good, with a fault unless it is the torn end. */
static bool take_line(struct held *held, const char *path, const char *line, size_t length, size_t number, bool last,
                      const struct brv_part_head *head, struct brv_headlines rows[], struct brv_faults *faults)
{
    struct brv_headlines row;
    size_t point;
    const size_t wanted = point_of(head, held->n);
    if (!sum_holds(line, length)) {
        if (last) {
            held->torn = true;
            held->line = number;
        } else {
            brv_faults_add(faults, path, (int)number, 1,
                           "this line is damaged: its sum does not fit; point %zu is wanted", wanted);
        }
    } else if (!read_point(line, &point, &row)) {
        brv_faults_add(faults, path, (int)number, 1, "a point and its %d numbers are wanted", (int)N_NUMBER);
    } else if (held->n >= points_of(head)) {
        brv_faults_add(faults, path, (int)number, 1, "point %zu stands here; the part ends with the line above", point);
    } else if (point != wanted) {
        brv_faults_add(faults, path, (int)number, 1, "point %zu stands here, wanted %zu", point, wanted);
    } else {
        rows[point] = row;
        return true;
    }
    return false;
}

/* Reads the text of a part; a damaged line is listed and the lines after it are looked at all the same. */
static void read_part(struct held *held, const char *path, char *text, size_t size, const struct brv_part_head *head,
                      struct brv_headlines rows[], struct brv_faults *faults)
{
    char wanted[HEAD_SIZE];
    write_head(wanted, head);
    char *end = memchr(text, '\n', size);
    *held = (struct held){.empty = !end};
    if (!end) { /* cut off in its first line, or something else altogether */
        if (size && (size >= strlen(wanted) || memcmp(text, wanted, size))) list_head(path, text, head, faults);
        return;
    }
    *end = '\0';
    wanted[strlen(wanted) - 1] = '\0';
    if (strcmp(text, wanted)) {
        list_head(path, text, head, faults);
        return;
    }
    held->whole = end + 1 - text;
    const size_t before = faults->n;
    size_t number = 2;
    for (char *line = end + 1; line < text + size && faults->n < before + MOST_LISTED; line = end + 1, number++) {
        end = memchr(line, '\n', (size_t)(text + size - line));
        const bool whole = end != NULL;
        if (!end) end = text + size; /* one byte more is there */
        *end = '\0';
        const bool last = end + 1 >= text + size;
        const bool good =
            take_line(held, path, line, whole ? (size_t)(end - line) : 0, number, last, head, rows, faults);
        if (!good && held->torn) return;
        held->n++; /* after a bad line the next one is wanted all the same */
        if (faults->n == before) held->whole = end + 1 - text;
    }
}

/* The bytes of a file with one more behind them. NULL when it cannot be read (errno says why). */
static char *load(int file, size_t *size)
{
    struct stat about;
    if (fstat(file, &about)) return NULL;
    if (!S_ISREG(about.st_mode) || about.st_size > (off_t)(BRV_N_SITE * (off_t)LINE_SIZE * 20000)) {
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

static void sync_folder(const char *folder)
{
    const int file = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (file < 0) return;
    sync_file(file);
    close(file);
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
    char head[HEAD_SIZE];
    part->whole = whole;
    if (ftruncate(part->file, (off_t)whole)) return trouble(part->path, "cannot be written", faults);
    if (whole) return 0;
    write_head(head, &part->head);
    return append(part, head, strlen(head), faults);
}

static int resume(struct brv_part *part, bool force, struct brv_headlines rows[], struct brv_faults *faults)
{
    struct brv_faults found = {.n = 0};
    struct held held;
    size_t size;
    char *text = load(part->file, &size);
    if (!text) return trouble(part->path, "cannot be read", faults);
    read_part(&held, part->path, text, size, &part->head, rows, &found);
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

static int open_file(struct brv_part *part, const char *folder, struct brv_faults *faults)
{
    const size_t room = strlen(folder) + NAME_SIZE;
    part->path = malloc(room);
    if (!part->path) return trouble(folder, "cannot be made", faults);
    snprintf(part->path, room, "%s/%u_of_%u", folder, part->head.part, part->head.parts);
    if (make_folders(folder)) return trouble(folder, "cannot be made", faults);
    const int file = open(part->path, O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK, 0666);
    if (file < 0) return trouble(part->path, "cannot be opened", faults);
    part->file = fcntl(file, F_DUPFD_CLOEXEC, 3); /* 0 means none */
    close(file);
    if (part->file < 0) {
        part->file = 0;
        return trouble(part->path, "cannot be opened", faults);
    }
    sync_folder(folder);
    if (!flock(part->file, LOCK_EX | LOCK_NB) || errno != EWOULDBLOCK) return 0;
    brv_faults_add(faults, part->path, 0, 0, "another run is writing it");
    return BRV_EXIT_FILE;
}

int brv_part_open(struct brv_part *part, const char *folder, const struct brv_part_head *head, bool force,
                  struct brv_headlines rows[], struct brv_faults *faults)
{
    *part = (struct brv_part){.head = *head, .n = points_of(head)};
    int code = open_file(part, folder, faults);
    if (!code) code = resume(part, force, rows, faults);
    if (code) brv_part_close(part);
    return code;
}

size_t brv_part_point(const struct brv_part *part, size_t k)
{
    return point_of(&part->head, k);
}

int brv_part_add(struct brv_part *part, const struct brv_headlines rows[], size_t n, struct brv_faults *faults)
{
    char *text = malloc(n * LINE_SIZE + 1);
    size_t size = 0;
    if (!text) return trouble(part->path, "cannot be written", faults);
    for (size_t i = 0; i < n; i++) size += write_point(text + size, brv_part_point(part, part->done + i), &rows[i]);
    const int code = append(part, text, size, faults);
    if (!code) part->done += n;
    free(text);
    return code;
}

void brv_part_remove(struct brv_part *part)
{
    if (!part->path) return;
    unlink(part->path);
    *strrchr(part->path, '/') = '\0';
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
static unsigned count_parts(const char *folder, struct brv_faults *faults)
{
    enum { MOST_KINDS = 16 };
    unsigned kind[MOST_KINDS] = {0}, there[MOST_KINDS] = {0}, part, parts;
    size_t n = 0, best = 0;
    DIR *all = opendir(folder);
    if (!all) {
        brv_faults_add(faults, folder, 0, 0, "cannot be read: %s; parts are written there by --part I/N",
                       strerror(errno));
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

static void join_one(const char *path, const struct brv_part_head *head, struct brv_headlines rows[],
                     struct brv_faults *faults)
{
    struct held held;
    size_t size = 0;
    const size_t before = faults->n;
    const int file = open(path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
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
    read_part(&held, path, text, size, head, rows, faults);
    free(text);
    if (held.torn) brv_faults_add(faults, path, (int)held.line, 1, "this line is cut off");
    if (held.n < points_of(head) && (faults->n == before || held.torn))
        brv_faults_add(faults, path, 0, 0, "has %zu of %zu points; --part %u/%u goes on with it", held.n,
                       points_of(head), head->part, head->parts);
}

int brv_part_join(const char *folder, const struct brv_part_head *head, struct brv_headlines rows[],
                  struct brv_faults *faults)
{
    const size_t before = faults->n, room = strlen(folder) + NAME_SIZE;
    struct brv_part_head wanted = *head;
    char *path = malloc(room);
    if (!path) return trouble(folder, "cannot be read", faults);
    wanted.parts = count_parts(folder, faults);
    for (wanted.part = 1; wanted.part <= wanted.parts; wanted.part++) {
        snprintf(path, room, "%s/%u_of_%u", folder, wanted.part, wanted.parts);
        join_one(path, &wanted, rows, faults);
    }
    free(path);
    return faults->n > before || faults->out_of_memory ? BRV_EXIT_FILE : BRV_EXIT_DONE;
}
