/* The tree of a file: its places, and everything that is refused on the way. */
#include "support/check.h"

#include "command/command.h"
#include "scenario/document.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Parses `text`, which must give `code`; with faults, the first must be at `line`, `column` and hold `words`. */
static void parsed_size(const char *text, size_t size, int code, int line, int column, const char *words)
{
    struct brv_document document;
    struct brv_faults faults = {0};
    assert_int_equal(brv_document_parse(&document, "t.yaml", text, size, &faults), code);
    assert_int_equal(faults.n > 0, code != BRV_EXIT_DONE);
    if (faults.n > 0) {
        assert_string_equal(faults.fault[0].file, "t.yaml");
        if (!strstr(faults.fault[0].text, words))
            fail_msg("reason is \"%s\", wanted \"%s\"", faults.fault[0].text, words);
        assert_int_equal(faults.fault[0].line, line);
        assert_int_equal(faults.fault[0].column, column);
    }
    brv_document_free(&document);
    brv_document_free(&document);
    brv_faults_free(&faults);
}

static void refused(const char *text, int line, int column, const char *words)
{
    parsed_size(text, strlen(text), BRV_EXIT_REFUSED, line, column, words);
}

static void a_tree_has_places(void **state)
{
    (void)state;
    static const char text[] = "title: A # not this\n"
                               "light:\n"
                               "  spot: 4.3 mm\n"
                               "  pulse: \"7 ns\"\n"
                               "skin:\n"
                               "  - layer: horny\n"
                               "  - {layer: basal, blood: }\n";
    struct brv_document document;
    struct brv_faults faults = {0};
    assert_int_equal(brv_document_parse(&document, "t.yaml", text, strlen(text), &faults), 0);
    assert_true(document.whole);
    const struct brv_node *root = &document.root;
    assert_int_equal(root->kind, BRV_NODE_MAP);
    assert_int_equal(root->n, 3);
    assert_string_equal(brv_node_child(root, "title")->text, "A");

    const struct brv_node *spot = brv_node_child(brv_node_child(root, "light"), "spot");
    assert_string_equal(spot->text, "4.3 mm");
    assert_int_equal(spot->at.line, 3);
    assert_int_equal(spot->at.column, 9);
    assert_int_equal(spot->key_at.column, 3);
    assert_string_equal(spot->at.file, "t.yaml");
    assert_null(brv_node_child(root, "Light"));

    const struct brv_node *skin = brv_node_child(root, "skin");
    assert_int_equal(skin->kind, BRV_NODE_LIST);
    assert_int_equal(skin->n, 2);
    assert_int_equal(skin->child[1].at.line, 7);
    assert_int_equal(skin->child[1].at.column, 5);
    const struct brv_node *empty = brv_node_child(&skin->child[1], "blood");
    assert_string_equal(empty->text, "");
    assert_int_equal(brv_node_place(empty).column, empty->key_at.column);
    brv_document_free(&document);
    brv_faults_free(&faults);
}

static void mark_and_line_ends_of_other_systems_are_fine(void **state)
{
    (void)state;
    const char *text = "\xEF\xBB\xBFtitle: A\r\nskin: dark\r\n";
    parsed_size(text, strlen(text), BRV_EXIT_DONE, 0, 0, "");
}

static void keys_are_given_once(void **state)
{
    (void)state;
    refused("light:\n  spot: 4 mm\n  pulse: 7 ns\n  spot: 5 mm\n", 4, 3,
            "spot stands here a second time, first in line 2");
    refused("- layer: a\n  layer: b\n", 2, 3, "first in line 1; a new layer begins with `- layer: NAME`");
    refused("a: {b: 1, b: {c: [2, 3]}}\n", 1, 11, "b stands here a second time");
}

static void only_plain_yaml_is_taken(void **state)
{
    (void)state;
    refused("a: &name 5\n", 1, 4, "anchors");
    refused("a: *name\n", 1, 4, "aliases");
    refused("a: [1, *name]\n", 1, 8, "aliases");
    refused("a: !!float 5\n", 1, 4, "tags");
    refused("a: !x {b: 1}\n", 1, 4, "tags");
    refused("!x a: 5\n", 1, 1, "tags");
    refused("a: &n [1]\n", 1, 4, "anchors");
    refused("? [a, b]\n: 5\n", 1, 3, "a key is a plain word");
    refused("*a : 5\n", 1, 1, "a key is a plain word");
    refused("a: 1\n---\nb: 2\n", 2, 1, "second document");
    refused("a: \"x\\0y\"\n", 1, 4, "NUL");
    refused("\"x\\0y\": 5\n", 1, 1, "NUL");
}

static void depth_and_number_are_bounded(void **state)
{
    (void)state;
    const char *deep = "[[[[[[[[1]]]]]]]]\n";
    parsed_size(deep, strlen(deep), BRV_EXIT_DONE, 0, 0, "");
    refused("[[[[[[[[[1]]]]]]]]]\n", 1, 9, "deeper than 8");

    const size_t n = BRV_DOCUMENT_VALUES;
    char *text = malloc(2 * n + 3);
    assert_non_null(text);
    text[0] = '[';
    for (size_t i = 0; i < n; i++) memcpy(text + 1 + 2 * i, "7,", 2);
    text[2 * n + 1] = ']';
    text[2 * n + 2] = '\0';
    refused(text, 1, (int)(2 * n), "far fewer values");
    free(text);
}

static void text_that_is_no_text_is_refused(void **state)
{
    (void)state;
    refused("", 0, 0, "is empty");
    refused("# a remark\n", 0, 0, "is empty");
    refused("a: caf\xE9\n", 1, 7, "not UTF-8");
    refused("a: \xC0\x80\n", 1, 4, "not UTF-8");         /* overlong */
    refused("a: \xE0\x9F\xBF\n", 1, 4, "not UTF-8");     /* overlong */
    refused("a: \xED\xA0\x80\n", 1, 4, "not UTF-8");     /* half of a surrogate pair */
    refused("a: \xF4\x90\x80\x80\n", 1, 4, "not UTF-8"); /* beyond U+10FFFF */
    refused("a: \xE2\x82", 1, 4, "not UTF-8");           /* cut off */
    refused("\xFF\xFE"
            "a",
            1, 1, "UTF-16");
    refused("\xFE\xFF"
            "a",
            1, 1, "UTF-16");
    refused("a: 1\nb: \x1b[31m\n", 2, 4, "control character");
    refused("a: \xC2\x9B\n", 1, 4, "control character");
    refused("a: \xEF\xBF\xBF\n", 1, 4, "control character");
    parsed_size("a: \0b\n", 7, BRV_EXIT_REFUSED, 1, 4, "control character");

    char *large = malloc(BRV_DOCUMENT_BYTES + 1);
    assert_non_null(large);
    memset(large, '#', BRV_DOCUMENT_BYTES + 1);
    parsed_size(large, BRV_DOCUMENT_BYTES + 1, BRV_EXIT_REFUSED, 0, 0, "larger than 1 MiB");
    parsed_size(large, BRV_DOCUMENT_BYTES, BRV_EXIT_REFUSED, 0, 0, "is empty"); /* one long remark */
    free(large);
}

/* A picture or a program is called so, and not a text in the wrong encoding. */
static void binary_files_are_no_text(void **state)
{
    (void)state;
    static const char picture[] = "\x89PNG\r\n\x1a\n\0\0\0\rIHDR";
    static const char program[] = "\x7F"
                                  "ELF\x02\x01\x01\0\0\0\xC0\xC0";
    parsed_size(picture, sizeof picture - 1, BRV_EXIT_REFUSED, 1, 1, "this is not a text file");
    parsed_size(program, sizeof program - 1, BRV_EXIT_REFUSED, 1, 1, "this is not a text file");
    refused("title: caf\xE9\r\n\tb\n", 1, 11, "not UTF-8"); /* line ends and tabs are no control characters */
}

static void broken_syntax_has_a_place(void **state)
{
    (void)state;
    refused("light:\n\tspot: 4 mm\n", 2, 1, "a tab stands here");
    refused("# caf\xC3\xA9, 0.3 \xC2\xB5m\nlight:\n\tspot: 4 mm\n", 3, 1, "a tab stands here");
    refused("\xEF\xBB\xBFlight:\n\tspot: 4 mm\n", 2, 1, "a tab stands here");
    refused("light:\n  spot: 4 mm\n    pulse: 7 ns\n", 3, 10, "this colon does not fit");
    refused("a: 1\nb: [1, 2\nc: 3\n", 2, 4, "not closed with ]");
    refused("a: {b: 1\n", 1, 4, "not closed with }");
    refused("a: 1\nb: \"open\n", 2, 4, "quotes that open here");
    refused("a: @b\n", 1, 4, "cannot begin with this character");
    refused("a: 1\n b: 2\n", 2, 3, "this colon does not fit");
    refused("a: 1\nword\n", 2, 1, "a colon and a blank are missing");
    refused("a:\n  b: 1\n  c:2\n", 3, 3, "a colon and a blank are missing");
    refused("a:\n  - b: 1\n   - c: 2\n", 3, 4, "indented otherwise");
    refused("a: 1\n'': 2\n", 2, 1, "a key is missing");
    refused("a: 1\nb: {c:\n", 3, 1, "a value is missing");
    refused("a: 1\nb: {\xC2\xB5:", 2, 7, "a value is missing"); /* behind the last letter, not in a line of its own */
    refused("\xEF\xBB\xBF{\xC2\xB5:", 1, 4, "a value is missing");
    refused("b: {\rc:", 2, 3, "a value is missing");
}

/* Faults found before the syntax broke are listed too, and nothing is made of a part of a file. */
static void faults_before_a_break_are_kept(void **state)
{
    (void)state;
    static const char text[] = "a: 1\na: 2\nb: [1\nc: 3\n";
    struct brv_document document;
    struct brv_faults faults = {0};
    assert_int_equal(brv_document_parse(&document, "t.yaml", text, strlen(text), &faults), BRV_EXIT_REFUSED);
    assert_int_equal(faults.n, 2);
    assert_int_equal(faults.fault[0].line, 2);
    assert_int_equal(faults.fault[1].line, 3);
    assert_false(document.whole);
    brv_document_free(&document);
    brv_faults_free(&faults);
}

static void children_come_and_go(void **state)
{
    (void)state;
    const struct brv_place here = {"t.yaml", 3, 5};
    struct brv_node node = {.kind = BRV_NODE_MAP};
    char key[16];
    for (int round = 0; round < 2; round++) {
        for (int i = 0; i < 11; i++) {
            snprintf(key, sizeof key, "k%d", i);
            assert_non_null(brv_node_add(&node, key, here));
        }
        brv_node_remove(&node, brv_node_child(&node, "k4"));
        assert_null(brv_node_child(&node, "k4"));
        assert_string_equal(node.child[4].key, "k5");
        while (node.n > 0) brv_node_remove(&node, &node.child[node.n / 2]);
    }
    brv_node_clear(&node);
}

static void files_that_cannot_be_read_are_trouble(void **state)
{
    (void)state;
    static const char *const path[] = {"/nowhere/at/all.yaml", "/"};
    static const char *const words[] = {"No such file", "it is a directory"};
    for (size_t i = 0; i < 2; i++) {
        struct brv_document document;
        struct brv_faults faults = {0};
        assert_int_equal(brv_document_read(&document, path[i], &faults), BRV_EXIT_FILE);
        assert_int_equal(faults.n, 1);
        assert_string_equal(faults.fault[0].file, path[i]);
        assert_int_equal(faults.fault[0].line, 0);
        assert_non_null(strstr(faults.fault[0].text, words[i]));
        brv_document_free(&document);
        brv_faults_free(&faults);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tree_has_places),
        cmocka_unit_test(mark_and_line_ends_of_other_systems_are_fine),
        cmocka_unit_test(keys_are_given_once),
        cmocka_unit_test(only_plain_yaml_is_taken),
        cmocka_unit_test(depth_and_number_are_bounded),
        cmocka_unit_test(text_that_is_no_text_is_refused),
        cmocka_unit_test(binary_files_are_no_text),
        cmocka_unit_test(broken_syntax_has_a_place),
        cmocka_unit_test(faults_before_a_break_are_kept),
        cmocka_unit_test(children_come_and_go),
        cmocka_unit_test(files_that_cannot_be_read_are_trouble),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
