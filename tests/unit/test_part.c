/* The files in which a sweep keeps its points. What a strange text does: tests/fuzz/fuzz_part.c; a strange folder or file:
 * tests/cli/hostile.sh.                                                                                               */
#include "support/check.h"

#include "report/part.h"

#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { PATH_SIZE = 256 };

enum { N_POINT = 7, N_NUMBER = 3 * BRV_N_SITE * BRV_N_HEADLINE };

static const struct brv_part_head plain = {"0.1.0", "0123456789abcdef", "fedcba9876543210", N_POINT, 1, 1};

static double *numbers(struct brv_headlines *row)
{
    return &row->at[0][0].value;
}

/* Numbers with all their digits, some of which are not there or without end. */
static struct brv_headlines sample_row(size_t point)
{
    struct brv_headlines row;
    for (size_t i = 0; i < N_NUMBER; i++)
        numbers(&row)[i] = sin((double)(point * N_NUMBER + i + 1)) * pow(10.0, (double)i - 40.0);
    numbers(&row)[5] = (double)NAN;
    numbers(&row)[7 + point] = -(double)INFINITY;
    numbers(&row)[50] = -0.0;
    return row;
}

static void check_row_of(const struct brv_headlines *row, size_t point)
{
    struct brv_headlines found = *row, wanted = sample_row(point);
    for (size_t i = 0; i < N_NUMBER; i++)
        assert_true(isnan(numbers(&wanted)[i]) ? isnan(numbers(&found)[i])
                                               : !memcmp(&numbers(&wanted)[i], &numbers(&found)[i], sizeof(double)));
}

struct box {
    char folder[PATH_SIZE], path[PATH_SIZE + 16];
    struct brv_headlines rows[N_POINT];
    struct brv_faults faults;
};

static struct box box_made(void)
{
    struct box box = {.faults = {.n = 0}};
    snprintf(box.folder, sizeof box.folder, "/tmp/brevis-part-XXXXXX");
    assert_non_null(mkdtemp(box.folder));
    snprintf(box.folder + strlen(box.folder), sizeof box.folder - strlen(box.folder), "/a/b.parts");
    snprintf(box.path, sizeof box.path, "%s/1_of_1", box.folder);
    return box;
}

static void box_clear(struct box *box)
{
    char command[2 * PATH_SIZE];
    box->folder[strlen("/tmp/brevis-part-XXXXXX")] = '\0';
    snprintf(command, sizeof command, "rm -rf %s", box->folder);
    assert_int_equal(system(command), 0);
    brv_faults_free(&box->faults);
}

static void write_points(struct box *box, const struct brv_part_head *head, size_t n)
{
    struct brv_part part;
    struct brv_headlines rows[N_POINT];
    assert_int_equal(brv_part_open(&part, box->folder, head, false, box->rows, &box->faults), 0);
    for (size_t i = 0; i < n; i++) rows[i] = sample_row(brv_part_point(&part, part.done + i));
    assert_int_equal(brv_part_add(&part, rows, n, &box->faults), 0);
    brv_part_close(&part);
    brv_part_close(&part);
}

/* How many points are found when it is opened again, or -1 when it is refused. */
static int points_found(struct box *box, const struct brv_part_head *head, bool force)
{
    struct brv_part part;
    memset(box->rows, 0, sizeof box->rows);
    brv_faults_free(&box->faults);
    if (brv_part_open(&part, box->folder, head, force, box->rows, &box->faults)) return -1;
    const int done = (int)part.done;
    for (size_t i = 0; i < part.done; i++) check_row_of(&box->rows[brv_part_point(&part, i)], brv_part_point(&part, i));
    brv_part_close(&part);
    return done;
}

static long size_of(const char *path)
{
    struct stat about;
    assert_int_equal(stat(path, &about), 0);
    return (long)about.st_size;
}

static void overwrite(const char *path, long at, const char *bytes)
{
    const int file = open(path, O_WRONLY);
    assert_true(file >= 0 && pwrite(file, bytes, strlen(bytes), at) == (ssize_t)strlen(bytes));
    close(file);
}

static void points_are_kept_to_the_last_bit(void **state)
{
    (void)state;
    struct box box = box_made();
    assert_int_equal(points_found(&box, &plain, false), 0);
    write_points(&box, &plain, 3);
    assert_int_equal(points_found(&box, &plain, false), 3);
    write_points(&box, &plain, 4);
    assert_int_equal(points_found(&box, &plain, false), 7);
    box_clear(&box);
}

/* Cut anywhere, all whole lines before the cut are found again and the file goes on from there. */
static void a_torn_end_is_dropped(void **state)
{
    (void)state;
    struct box box = box_made();
    write_points(&box, &plain, 1);
    const long one = size_of(box.path);
    write_points(&box, &plain, 1);
    const long two = size_of(box.path);
    for (long cut = two - 1; cut >= 0; cut -= cut > one - 30 && cut < one + 3 ? 1 : 97) {
        assert_int_equal(truncate(box.path, cut), 0);
        const int wanted = cut >= one ? 1 : 0;
        assert_int_equal(points_found(&box, &plain, false), wanted);
        write_points(&box, &plain, (size_t)(2 - wanted));
        assert_int_equal(size_of(box.path), two);
    }
    overwrite(box.path, two - 9, "zzzz"); /* a last line whose blocks never reached the disk */
    assert_int_equal(points_found(&box, &plain, false), 1);
    box_clear(&box);
}

static void expect_refused(struct box *box, const struct brv_part_head *head, const char *what)
{
    const long before = size_of(box->path);
    assert_int_equal(points_found(box, head, false), -1);
    assert_non_null(strstr(box->faults.fault[0].text, what));
    assert_string_equal(box->faults.fault[0].file, box->path);
    assert_true(box->faults.fault[0].line > 0);
    assert_int_equal(size_of(box->path), before); /* kept as it was */
}

static void what_belongs_elsewhere_is_refused(void **state)
{
    (void)state;
    struct box box = box_made();
    write_points(&box, &plain, 4);
    struct brv_part_head other = plain;
    other.version = "0.2.0";
    expect_refused(&box, &other, "written by brevis 0.1.0, wanted 0.2.0");
    other = plain;
    other.scenario = "1123456789abcdef";
    expect_refused(&box, &other, "belongs to scenario 0123456789abcdef, wanted 1123456789abcdef");
    other = plain;
    other.sweep = "1edcba9876543210";
    expect_refused(&box, &other, "belongs to other keys or values");

    overwrite(box.path, 39, "\x1b"); /* the hash of the scenario: what a file holds reaches no terminal as it is */
    expect_refused(&box, &plain, "belongs to scenario ?");
    overwrite(box.path, 39, "\xC5");
    expect_refused(&box, &plain, "belongs to scenario ?");
    overwrite(box.path, 39, "0");

    overwrite(box.path, size_of(box.path) / 2, "4"); /* a line in the middle */
    overwrite(box.path, size_of(box.path) / 2 + 1, "5");
    expect_refused(&box, &plain, "this line is damaged");
    assert_int_equal(points_found(&box, &plain, true), 0); /* force begins anew */
    write_points(&box, &plain, 2);
    overwrite(box.path, 0, "hello");
    expect_refused(&box, &plain, "the first line of a part is wanted");
    box_clear(&box);
}

static void a_part_has_one_writer(void **state)
{
    (void)state;
    struct box box = box_made();
    struct brv_part first;
    assert_int_equal(brv_part_open(&first, box.folder, &plain, false, box.rows, &box.faults), 0);
    assert_int_equal(points_found(&box, &plain, true), -1);
    assert_string_equal(box.faults.fault[0].text, "another run is writing it");
    brv_part_remove(&first);
    assert_int_equal(access(box.folder, F_OK), -1);
    box_clear(&box);
}

static struct brv_part_head of_three(unsigned part)
{
    struct brv_part_head head = plain;
    head.part = part;
    head.parts = 3;
    return head;
}

static bool says(const struct brv_faults *faults, const char *file, int line, const char *what)
{
    for (size_t i = 0; i < faults->n; i++)
        if (strstr(faults->fault[i].file, file) && faults->fault[i].line == line && strstr(faults->fault[i].text, what))
            return true;
    return false;
}

static void parts_join_when_they_are_whole(void **state)
{
    (void)state;
    struct box box = box_made();
    const struct brv_part_head head[] = {of_three(1), of_three(2), of_three(3)};
    write_points(&box, &head[0], 3); /* 0, 3, 6 */
    write_points(&box, &head[1], 2); /* 1, 4 */
    assert_int_equal(brv_part_join(box.folder, &plain, box.rows, &box.faults), 4);
    assert_true(says(&box.faults, "3_of_3", 0, "is missing; --part 3/3 writes it"));
    brv_faults_free(&box.faults);

    write_points(&box, &head[2], 1); /* 2, not 5 */
    assert_int_equal(brv_part_join(box.folder, &plain, box.rows, &box.faults), 4);
    assert_int_equal(box.faults.n, 1);
    assert_true(says(&box.faults, "3_of_3", 0, "has 1 of 2 points; --part 3/3 goes on with it"));
    brv_faults_free(&box.faults);

    write_points(&box, &head[2], 1);
    memset(box.rows, 0, sizeof box.rows);
    assert_int_equal(brv_part_join(box.folder, &plain, box.rows, &box.faults), 0);
    for (size_t i = 0; i < N_POINT; i++) check_row_of(&box.rows[i], i);
    box_clear(&box);
}

static void joining_lists_all_faults(void **state)
{
    (void)state;
    struct box box = box_made();
    const struct brv_part_head head[] = {of_three(1), of_three(2), of_three(3)};
    char path[PATH_SIZE + 16];
    write_points(&box, &head[0], 3);
    write_points(&box, &head[1], 2);
    struct brv_part_head other = head[2];
    other.version = "0.0.9";
    write_points(&box, &other, 2);
    write_points(&box, &plain, 2); /* one of one beside them */
    snprintf(path, sizeof path, "%s/1_of_3", box.folder);
    overwrite(path, 200, "x"); /* in its second line */
    snprintf(path, sizeof path, "%s/2_of_3", box.folder);
    assert_int_equal(truncate(path, size_of(path) - 5), 0);
    assert_int_equal(brv_part_join(box.folder, &plain, box.rows, &box.faults), 4);
    assert_true(says(&box.faults, "b.parts", 0, "holds parts of 1 beside those of 3"));
    assert_true(says(&box.faults, "1_of_3", 2, "this line is damaged"));
    assert_true(says(&box.faults, "2_of_3", 3, "this line is cut off"));
    assert_true(says(&box.faults, "2_of_3", 0, "has 1 of 2 points"));
    assert_true(says(&box.faults, "3_of_3", 1, "written by brevis 0.0.9"));
    brv_faults_free(&box.faults);
    assert_int_equal(brv_part_join("/tmp/no-such-folder", &plain, box.rows, &box.faults), 4);
    box_clear(&box);
}

/* A line whose sum fits but which does not belong where it stands. */
static void points_stand_once_and_in_order(void **state)
{
    (void)state;
    struct box box = box_made();
    write_points(&box, &plain, 2);
    char command[4 * PATH_SIZE];
    snprintf(command, sizeof command, "sed -i '2{h;d};3G' %s", box.path); /* the two lines change places */
    assert_int_equal(system(command), 0);
    expect_refused(&box, &plain, "point 1 stands here, wanted 0");
    snprintf(command, sizeof command, "sed -i '2{h;p}' %s", box.path);
    assert_int_equal(system(command), 0);
    expect_refused(&box, &plain, "stands here, wanted 0");
    box_clear(&box);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(points_are_kept_to_the_last_bit),   cmocka_unit_test(a_torn_end_is_dropped),
        cmocka_unit_test(what_belongs_elsewhere_is_refused), cmocka_unit_test(a_part_has_one_writer),
        cmocka_unit_test(parts_join_when_they_are_whole),    cmocka_unit_test(joining_lists_all_faults),
        cmocka_unit_test(points_stand_once_and_in_order),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
