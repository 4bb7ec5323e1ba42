/* The reader of tables: it finds columns by name, counts rows, and above all fails where a table or a row is wrong. */
#include "support/table.h"
#include "support/check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

static char path[] = "/tmp/brevis_table_XXXXXX";
static char said[4096]; /* what a failing test printed */

static void write_table(const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    fclose(file);
}

/* Ends a child process with the number of tests that failed; its words go into a pipe. */
static void run_in_child(void (*test)(void **), int out)
{
    const struct CMUnitTest tests[] = {{"one", test, NULL, NULL, NULL}};
    unsetenv("BREVIS_RECORD"); /* what fails here on purpose is no comparison with the world */
    dup2(out, STDOUT_FILENO);
    dup2(out, STDERR_FILENO);
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    fflush(NULL);
    _exit(failed);
}

/* How many tests of a group of one fail: the real harness, in a process of its own. */
static int failures(void (*test)(void **))
{
    int ends[2], status = 0;
    assert_int_equal(pipe(ends), 0);
    fflush(NULL);
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) run_in_child(test, ends[1]);

    close(ends[1]);
    size_t n = 0;
    for (ssize_t got = 1; got > 0 && n<sizeof said - 1; n += got> 0 ? (size_t)got : 0)
        got = read(ends[0], said + n, sizeof said - 1 - n);
    said[n] = '\0';
    close(ends[0]);
    waitpid(child, &status, 0);
    assert_true(WIFEXITED(status));
    return WEXITSTATUS(status);
}

/* A table of squares, the check its rows get, and the test around it. */

static void check_square(const struct table_row *row, void *context)
{
    const double x = table_number(row, "x");
    *(double *)context += x;
    check_row("square", "arithmetic", x * x, table_number(row, "square"), 1e-12, "rounding");
}

static void squares(void **state)
{
    double sum = 0.0;
    (void)state;
    assert_int_equal(table_each(path, check_square, &sum), 2);
    check_close(sum, 5.5, 1e-15, 0.0);
}

static void right_rows_pass(void **state)
{
    (void)state;
    write_table("# squares\nx,square\n2,4\n# between\n\n3.5,12.25\n");
    assert_int_equal(failures(squares), 0);
    write_table("square,other,x\r\n4,\"a, \"\"b\"\"\",2\r\n12.25,,3.5\r\n"); /* by name, whatever the order */
    assert_int_equal(failures(squares), 0);
}

static void a_wrong_row_fails(void **state)
{
    (void)state;
    write_table("x,square\n2,4\n3.5,12.250001\n");
    assert_int_equal(failures(squares), 1);
    assert_non_null(strstr(said, "square: found 12.25, expected 12.25000"));
    write_table("x,square\n2,4.1\n3.5,12.25\n");
    assert_int_equal(failures(squares), 1);
}

static void a_lost_row_fails(void **state)
{
    (void)state;
    static const char *const text[] = {"", "# only words\n", "x,square\n", "x,square\n2,4\n",
                                       "x,square\n#2,4\n3.5,12.25\n"};
    for (size_t i = 0; i < sizeof text / sizeof *text; i++) {
        write_table(text[i]);
        assert_int_equal(failures(squares), 1);
    }
}

/* Each fault names the file and the line it was found in. */
static void faults_name_their_line(void **state)
{
    (void)state;
    static const struct {
        const char *text, *place, *word;
    } fault[] = {{"x,cube\n2,8\n", ":2:", "has no column 'square'"},
                 {"x,square\n2,4\n3.5,twelve\n", ":3:", "square 'twelve'"},
                 {"x,square\n2,4\n3.5,12.25 \n", ":3:", "square '12.25 '"},
                 {"x,square\n2,4\n3.5,\n", ":3:", "square ''"},
                 {"x,square\n2,nan\n", ":2:", "square 'nan'"},
                 {"# a\nx,square\n2,4,1\n", ":3:", "one field per column"},
                 {"x,square\n2\n", ":2:", "one field per column"},
                 {"x,square\n2,\"4\n", ":2:", "one field per column"},
                 {"x,square\n2,\"4\"4\n", ":2:", "one field per column"}};
    for (size_t i = 0; i < sizeof fault / sizeof *fault; i++) {
        char place[80];
        write_table(fault[i].text);
        assert_int_equal(failures(squares), 1);
        snprintf(place, sizeof place, "%s%s", path, fault[i].place);
        if (!strstr(said, place) || !strstr(said, fault[i].word))
            fail_msg("expected %s ... %s in:\n%s", place, fault[i].word, said);
    }
}

static void read_nowhere(void **state)
{
    (void)state;
    table_each("/nowhere/at_all.csv", check_square, NULL);
}

static void a_missing_file_fails(void **state)
{
    (void)state;
    assert_int_equal(failures(read_nowhere), 1);
    assert_non_null(strstr(said, "/nowhere/at_all.csv"));
}

static void look_at_fields(const struct table_row *row, void *context)
{
    (void)context;
    assert_string_equal(table_text(row, "words"), "one, \"two\"");
    assert_true(table_blank(row, "empty") && !table_blank(row, "words"));
    assert_true(isinf(table_number(row, "far")));
    check_close(table_number(row, "small"), 1.3767e-16, 1e-15, 0.0);
    check_close(table_rounding(row, "small"), 0.5e-20, 1e-12, 0.0);
    check_close(table_rounding(row, "plain"), 0.005, 1e-12, 0.0);
    check_close(table_rounding(row, "whole"), 0.5, 1e-12, 0.0);
    assert_int_equal(row->line, 2);
}

static void fields_are_read(void **state)
{
    (void)state;
    write_table("words,empty,far,small,plain,whole\n\"one, \"\"two\"\"\",,inf,1.3767e-16,-4.20,77\n");
    assert_int_equal(table_each(path, look_at_fields, NULL), 1);
}

/* A fixture that leaves the state alone, see table.h. */
static int make_file(void **state)
{
    (void)state;
    const int file = mkstemp(path);
    return file < 0 ? -1 : close(file);
}

static int remove_file(void **state)
{
    (void)state;
    return unlink(path);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(right_rows_pass),      cmocka_unit_test(a_wrong_row_fails),
        cmocka_unit_test(a_lost_row_fails),     cmocka_unit_test(faults_name_their_line),
        cmocka_unit_test(a_missing_file_fails), cmocka_unit_test(fields_are_read),
    };
    return cmocka_run_group_tests(tests, make_file, remove_file);
}
