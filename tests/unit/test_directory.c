/* Directories of results: whole or not there, whatever was there before and whoever else writes. */
#define _DEFAULT_SOURCE /* syscall */
#include "report/directory.h"

#include "support/check.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

static char home[] = "/tmp/brevis-directory-XXXXXX";
static char reason[512];
static struct brv_directory directory;

/* Stands in for the C library's, to be a file system that can neither exchange nor promise not to overwrite. */
static int plain_file_system;
int renameat2(int from_folder, const char *from, int to_folder, const char *to, unsigned flags);

int renameat2(int from_folder, const char *from, int to_folder, const char *to, unsigned flags)
{
    if (!plain_file_system) return (int)syscall(SYS_renameat2, from_folder, from, to_folder, to, flags);
    errno = EINVAL;
    return -1;
}

/* ---- a fresh folder for every test, and the current one ---- */

static int begin_test(void **state)
{
    (void)state;
    strcpy(home + strlen(home) - 6, "XXXXXX");
    directory = (struct brv_directory){0};
    *reason = '\0';
    plain_file_system = 0;
    return !mkdtemp(home) || chmod(home, 0755) || chdir(home);
}

static int end_test(void **state)
{
    (void)state;
    brv_directory_abandon(&directory);
    char command[64];
    snprintf(command, sizeof command, "rm -rf %s", home);
    return chdir("/") || system(command);
}

#define BY " by brevis" /* what a mark holds, else nothing is replaced */

static void write_text(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    assert_int_equal(fclose(file), 0);
}

static void check_text(const char *path, const char *expected)
{
    char found[64] = "";
    FILE *file = fopen(path, "r");
    if (!file) fail_msg("%s is missing", path);
    const size_t n = fread(found, 1, sizeof found - 1, file);
    fclose(file);
    found[n] = '\0';
    char *by = strstr(found, BY);
    if (by) *by = '\0';
    assert_string_equal(found, expected);
}

static int is_there(const char *path)
{
    struct stat about;
    return !lstat(path, &about);
}

/* How many names a folder has, hidden ones too. */
static size_t count(const char *path)
{
    DIR *folder = opendir(path);
    assert_non_null(folder);
    size_t n = 0;
    while (readdir(folder)) n++;
    closedir(folder);
    return n - 2;
}

static void make_result(const char *path, const char *text)
{
    char summary[128], marked[128];
    assert_int_equal(mkdir(path, 0777), 0);
    snprintf(summary, sizeof summary, "%s/summary.json", path);
    snprintf(marked, sizeof marked, "%s" BY, text);
    write_text(summary, marked);
}

static int begin(const char *target, int force)
{
    return brv_directory_begin(&directory, target, force, reason, sizeof reason);
}

static void fill(const char *text)
{
    FILE *file = brv_directory_open(&directory, "summary.json");
    assert_non_null(file);
    fprintf(file, "%s" BY, text);
    assert_int_equal(brv_directory_close(file), 0);
}

static int commit(void)
{
    return brv_directory_commit(&directory, reason, sizeof reason);
}

static void check_refused(const char *target, int force, const char *word)
{
    assert_int_equal(begin(target, force), 4);
    assert_null(directory.target);
    assert_null(directory.part);
    if (!strstr(reason, word)) fail_msg("'%s' does not say '%s'", reason, word);
}

/* ---- a target that is new ---- */

static void test_new(void **state)
{
    (void)state;
    assert_int_equal(begin("out", 0), 0);
    fill("new");
    assert_false(is_there("out"));
    assert_int_equal(commit(), 0);
    assert_null(directory.part);
    check_text("out/summary.json", "new");
    assert_int_equal(count("."), 1);
}

static void test_parents_and_end_slashes(void **state)
{
    (void)state;
    assert_int_equal(begin("a/b//c///", 0), 0);
    fill("deep");
    assert_int_equal(commit(), 0);
    check_text("a/b/c/summary.json", "deep");
    assert_int_equal(count("a/b"), 1);
}

static void test_absolute(void **state)
{
    (void)state;
    char target[128];
    snprintf(target, sizeof target, "%s/x/y", home);
    assert_int_equal(begin(target, 0), 0);
    fill("there");
    assert_int_equal(commit(), 0);
    check_text("x/y/summary.json", "there");
}

static void test_below_a_link(void **state)
{
    (void)state;
    assert_int_equal(mkdir("real", 0777) || symlink("real", "link"), 0);
    assert_int_equal(begin("link/out", 0), 0);
    fill("linked");
    assert_int_equal(commit(), 0);
    check_text("real/out/summary.json", "linked");
}

static void test_abandon(void **state)
{
    (void)state;
    assert_int_equal(begin("out", 0), 0);
    fill("half");
    brv_directory_abandon(&directory);
    brv_directory_abandon(&directory);
    assert_int_equal(count("."), 0);
}

/* ---- a target that is there ---- */

static void test_kept_without_force(void **state)
{
    (void)state;
    make_result("out", "old");
    check_refused("out", 0, "--force");
    check_refused("./out/", 0, "--force");
    check_text("out/summary.json", "old");
    assert_int_equal(count("."), 1);
}

static void test_replaced_with_force(void **state)
{
    (void)state;
    make_result("out", "old");
    write_text("out/depth.csv", "old");
    assert_int_equal(begin("out", 1), 0);
    fill("new");
    check_text("out/summary.json", "old");
    assert_int_equal(commit(), 0);
    check_text("out/summary.json", "new");
    assert_false(is_there("out/depth.csv"));
    assert_int_equal(count("."), 1);
}

static void test_old_kept_when_abandoned(void **state)
{
    (void)state;
    make_result("out", "old");
    assert_int_equal(begin("out", 1), 0);
    fill("new");
    brv_directory_abandon(&directory);
    check_text("out/summary.json", "old");
    assert_int_equal(count("."), 1);
}

static void test_empty_is_replaced(void **state)
{
    (void)state;
    mkdir("out", 0777);
    assert_int_equal(begin("out", 1), 0);
    fill("new");
    assert_int_equal(commit(), 0);
    check_text("out/summary.json", "new");
}

/* --force is no leave to remove somebody's photographs. */
static void test_other_things_are_kept(void **state)
{
    (void)state;
    mkdir("pictures", 0777);
    write_text("pictures/one.jpg", "x");
    check_refused("pictures", 1, "holds one.jpg, which is no part of a result");
    check_text("pictures/one.jpg", "x");
    mkdir("pages", 0777); /* cards of somebody else */
    write_text("pages/card.html", "<p>best wishes</p>");
    check_refused("pages", 1, "no summary.json, card.html or handout.html of brevis");
    check_text("pages/card.html", "<p>best wishes</p>");
    make_result("notes", "new");
    static const char *const put_there[] = {"notes/notes.txt", "notes/measured.csv", "notes/page.html",
                                            "notes/depth.txt", "notes/depth",        "notes/.csv",
                                            "notes/dept.csv"};
    for (size_t i = 0; i < sizeof put_there / sizeof *put_there; i++) {
        write_text(put_there[i], "x");
        check_refused("notes", 1, "which is no part of a result");
        check_text(put_there[i], "x");
        assert_int_equal(unlink(put_there[i]), 0);
    }
    mkdir("notes/more", 0777); /* put there later */
    check_refused("notes", 1, "holds more, which is no part of a result");
    rmdir("notes/more");
    assert_int_equal(symlink("../file", "notes/map.csv"), 0);
    check_refused("notes", 1, "holds map.csv, which is no part of a result");
    assert_int_equal(unlink("notes/map.csv"), 0);
    assert_int_equal(mkfifo("notes/map.csv", 0666), 0);
    check_refused("notes", 1, "holds map.csv, which is no part of a result");
    mkdir("pipe", 0777);
    assert_int_equal(mkfifo("pipe/summary.json", 0666), 0);
    check_refused("pipe", 1, "pipe");
    write_text("file", "x");
    check_refused("file", 1, "not a directory");
    mkdir("real", 0777);
    assert_int_equal(symlink("real", "link"), 0);
    check_refused("link", 1, "is a link");
    assert_int_equal(count("."), 7);
}

static void test_came_meanwhile(void **state)
{
    (void)state;
    assert_int_equal(begin("out", 0), 0);
    fill("late");
    make_result("out", "early");
    assert_int_equal(commit(), 4);
    assert_non_null(strstr(reason, "is there already"));
    check_text("out/summary.json", "early");
    assert_int_equal(count("."), 1);
}

static void test_plain_file_system(void **state)
{
    (void)state;
    plain_file_system = 1;
    test_new(state);
    assert_int_equal(begin("out", 1), 0);
    fill("newer");
    assert_int_equal(commit(), 0);
    check_text("out/summary.json", "newer");
    assert_int_equal(count("."), 1);
}

/* ---- what cannot be ---- */

static void test_no_name(void **state)
{
    (void)state;
    check_refused("", 0, "empty name");
    check_refused(".", 1, "name of its own");
    check_refused("..", 1, "name of its own");
    check_refused("a/..", 1, "name of its own");
    check_refused("./", 1, "name of its own");
    check_refused("/", 1, "name of its own");
    check_refused("///", 1, "name of its own");
    assert_int_equal(count("."), 0);
}

static void test_parent_is_a_file(void **state)
{
    (void)state;
    write_text("file", "x");
    check_refused("file/out", 0, "Not a directory");
    check_refused("file/deep/out", 0, "Not a directory");
    check_text("file", "x");
}

static void test_name_too_long(void **state)
{
    (void)state;
    char name[300];
    memset(name, 'n', sizeof name);
    name[299] = '\0'; /* more than a name may have */
    check_refused(name, 0, "File name too long");
    name[250] = '\0'; /* a good name, but not with what is put around it */
    check_refused(name, 0, "File name too long");
    char deep[320];
    snprintf(deep, sizeof deep, "new/newer/%s", name);
    check_refused(deep, 0, "File name too long");
    assert_int_equal(count("."), 0); /* the parents have gone again */
}

static void test_not_permitted(void **state)
{
    (void)state;
    mkdir("closed", 0555);
    const uid_t user = geteuid();
    if (user == 0) assert_int_equal(seteuid(65534), 0);
    const int code = begin("closed/out", 0);
    if (user == 0) assert_int_equal(seteuid(0), 0);
    assert_int_equal(code, 4);
    assert_non_null(strstr(reason, "Permission denied"));
    assert_int_equal(count("closed"), 0);
    chmod("closed", 0755);
}

static void test_full_disk(void **state)
{
    (void)state;
    FILE *file = fopen("/dev/full", "we");
    assert_non_null(file);
    fputs("more than fits", file);
    assert_int_equal(brv_directory_close(file), -1);
    assert_int_equal(errno, ENOSPC);

    file = fopen("/dev/full", "we"); /* the same, noticed long before the end */
    assert_non_null(file);
    for (int i = 0; i < 20000; i++) fputs("more than fits\n", file);
    errno = 0;
    assert_int_equal(brv_directory_close(file), -1);
    assert_int_equal(errno, ENOSPC);
}

/* Nothing is written through what somebody else has put at a file's name, nor into a folder put in the place of ours. */
static void test_nothing_through_a_link(void **state)
{
    (void)state;
    char inside[128];
    write_text("precious", "x");
    assert_int_equal(begin("out", 0), 0);
    snprintf(inside, sizeof inside, "%s/a.csv", directory.part);
    assert_int_equal(symlink("../precious", inside), 0);
    assert_null(brv_directory_open(&directory, "a.csv"));
    assert_int_equal(errno, EEXIST);
    assert_int_equal(rename(directory.part, "taken"), 0);
    mkdir("elsewhere", 0777);
    assert_int_equal(symlink("elsewhere", directory.part), 0);
    FILE *file = brv_directory_open(&directory, "b.csv");
    assert_non_null(file);
    fputs("x", file);
    assert_int_equal(brv_directory_close(file), 0);
    assert_true(is_there("taken/b.csv"));
    assert_false(is_there("elsewhere/b.csv"));
    brv_directory_abandon(&directory);
    check_text("precious", "x");
    assert_true(is_there("elsewhere"));
}

static void test_open_fails(void **state)
{
    (void)state;
    assert_int_equal(begin("out", 0), 0);
    assert_null(brv_directory_open(&directory, "no/such.csv"));
    assert_int_equal(errno, ENOENT);
}

static void test_part_taken_away(void **state)
{
    (void)state;
    make_result("out", "old");
    assert_int_equal(begin("out", 1), 0);
    assert_int_equal(rename(directory.part, "elsewhere"), 0);
    assert_int_equal(commit(), 4);
    assert_non_null(strstr(reason, "cannot be written"));
    check_text("out/summary.json", "old");
}

/* ---- other runs ---- */

static void test_second_run_refused(void **state)
{
    (void)state;
    struct brv_directory second = {0};
    make_result("out", "old");
    assert_int_equal(begin("out", 1), 0);
    fill("first");
    assert_int_equal(brv_directory_begin(&second, "out", 1, reason, sizeof reason), 4);
    assert_non_null(strstr(reason, "another run"));
    assert_int_equal(brv_directory_begin(&second, "out2", 1, reason, sizeof reason), 0);
    brv_directory_abandon(&second);
    assert_int_equal(commit(), 0);
    check_text("out/summary.json", "first");
}

/* A run that is killed while it writes: the old result stays whole, the rest goes with the next run. */
static void test_killed(void **state)
{
    (void)state;
    make_result("out", "old");
    const pid_t child = fork();
    if (child == 0) {
        if (begin("out", 1) == 0 && brv_directory_open(&directory, "summary.json")) raise(SIGKILL);
        _exit(1);
    }
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFSIGNALED(status));
    check_text("out/summary.json", "old");
    assert_int_equal(count("."), 2);

    check_refused("out", 0, "--force"); /* also a run that is refused tidies up */
    assert_int_equal(count("."), 1);
    assert_int_equal(begin("out", 1), 0);
    fill("new");
    assert_int_equal(commit(), 0);
    check_text("out/summary.json", "new");
}

static void test_leftover_parts(void **state)
{
    (void)state;
    char own[64];
    snprintf(own, sizeof own, ".out.part-%ld", (long)getpid());
    make_result(own, "of an earlier process with our number");
    make_result(".out.part-99999999", "gone");
    make_result(".out.part-1", "number 1 lives, but does not hold this");
    make_result(".out.part-7b", "not ours");
    make_result(".other.part-99999999", "another target's");
    assert_int_equal(begin("out", 0), 0);
    assert_int_equal(count("."), 3);
    assert_true(is_there(".out.part-7b"));
    assert_true(is_there(".other.part-99999999"));
}

/* Killed between the two renames of a file system that cannot exchange. */
static void test_old_put_back(void **state)
{
    (void)state;
    make_result(".out.old", "old");
    check_refused("out", 0, "--force");
    check_text("out/summary.json", "old");
    assert_false(is_there(".out.old"));
}

/* Killed before the old one was removed. */
static void test_old_removed(void **state)
{
    (void)state;
    make_result("out", "new");
    make_result(".out.old", "old");
    check_refused("out", 0, "--force");
    check_text("out/summary.json", "new");
    assert_int_equal(count("."), 1);
}

/* Many at once into one new target: one wins, the others are refused, and the files are of one run. */
static void test_race(void **state)
{
    (void)state;
    enum { RUNNERS = 12 };
    int start[2], won = 0;
    pid_t child[RUNNERS];
    assert_int_equal(pipe(start), 0);
    for (int i = 0; i < RUNNERS; i++) {
        child[i] = fork();
        if (child[i] != 0) continue;
        char own[64], wait;
        close(start[1]);
        (void)!read(start[0], &wait, 1); /* ends for all when the parent closes */
        int code = begin("out", 0);
        snprintf(own, sizeof own, "%d" BY, i);
        for (int k = 0; k < 2 && !code; k++) {
            FILE *file = brv_directory_open(&directory, k ? "depth.csv" : "summary.json");
            if (!file || fputs(own, file) < 0 || brv_directory_close(file)) code = 1;
        }
        _exit(code ? code : commit());
    }
    close(start[0]);
    close(start[1]);
    for (int i = 0; i < RUNNERS; i++) {
        int status;
        assert_int_equal(waitpid(child[i], &status, 0), child[i]);
        assert_true(WIFEXITED(status));
        assert_true(WEXITSTATUS(status) == 0 || WEXITSTATUS(status) == 4);
        won += WEXITSTATUS(status) == 0;
    }
    assert_int_equal(won, 1);
    char first[64] = "";
    FILE *file = fopen("out/summary.json", "r");
    assert_non_null(file);
    assert_non_null(fgets(first, sizeof first, file));
    fclose(file);
    char *by = strstr(first, BY);
    assert_non_null(by);
    *by = '\0';
    check_text("out/depth.csv", first);
    assert_int_equal(count("."), 1);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, begin_test, end_test)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(test_new),
        TEST(test_parents_and_end_slashes),
        TEST(test_absolute),
        TEST(test_below_a_link),
        TEST(test_abandon),
        TEST(test_kept_without_force),
        TEST(test_replaced_with_force),
        TEST(test_old_kept_when_abandoned),
        TEST(test_empty_is_replaced),
        TEST(test_other_things_are_kept),
        TEST(test_came_meanwhile),
        TEST(test_plain_file_system),
        TEST(test_no_name),
        TEST(test_parent_is_a_file),
        TEST(test_name_too_long),
        TEST(test_not_permitted),
        TEST(test_full_disk),
        TEST(test_nothing_through_a_link),
        TEST(test_open_fails),
        TEST(test_part_taken_away),
        TEST(test_second_run_refused),
        TEST(test_killed),
        TEST(test_leftover_parts),
        TEST(test_old_put_back),
        TEST(test_old_removed),
        TEST(test_race),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
