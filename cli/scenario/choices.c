#include "scenario/choices.h"

#include "command/command.h"
#include "scenario/document.h"
#include "scenario/letters.h"
#include "scenario/path.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- one choice ---- */

struct changes {
    struct brv_document *document; /* a copy that they are put into */
    const char *own;               /* names the file of this choice's values */
    struct brv_faults *faults;
    struct brv_choice *choice;
};

static void fault_at(struct brv_faults *faults, struct brv_place at, const char *text, const char *about)
{
    char shown[BRV_SHOWN_SIZE];
    brv_faults_add(faults, at.file, at.line, at.column, text, brv_fault_shown(shown, about));
}

/* "light.spot 7 mm", as far as it fits. */
static void tell_change(struct brv_choice *choice, const char *path, const struct brv_node *value)
{
    const size_t used = strlen(choice->changes), room = sizeof choice->changes - used;
    const size_t more = (size_t)snprintf(choice->changes + used, room, "%s%s ", used ? ", " : "", path);
    if (more >= room) return;
    brv_letters_shown(choice->changes + used + more, room - more,
                      value->kind == BRV_NODE_TEXT ? value->text : "(a list)");
}

static void tell_changes(struct brv_choice *choice, const char *path, const struct brv_node *value)
{
    char below[BRV_SHOWN_SIZE];
    if (value->kind != BRV_NODE_MAP || value->n == 0) tell_change(choice, path, value);
    for (size_t i = 0; value->kind == BRV_NODE_MAP && i < value->n; i++) {
        snprintf(below, sizeof below, "%s.%s", path, value->child[i].key);
        tell_changes(choice, below, &value->child[i]);
    }
}

/* A skin of its own, ready or by its colour, in place of the whole that stands there, as --set has it: not keys that differ. */
static bool is_another_skin(const char *path, const struct brv_node *value)
{
    return !strcmp(path, "skin") && (brv_node_child(value, "ready") || brv_node_child(value, "colour"));
}

/* Keys of keys as dotted paths: light: {spot: 7 mm} says light.spot. */
static void put_all(const struct changes *changes, const char *prefix, const struct brv_node *map)
{
    char path[3 * BRV_LAYER_NAME_SIZE];
    for (size_t i = 0; i < map->n; i++) {
        const struct brv_node *child = &map->child[i];
        const int length = snprintf(path, sizeof path, "%s%s%s", prefix, *prefix ? "." : "", child->key);
        if (child->refused) continue;
        if (length >= (int)sizeof path)
            fault_at(changes->faults, child->key_at, "%s is not a key", child->key);
        else if (!strcmp(path, "title") || !strncmp(path, "choices", 7) || !strncmp(path, "spread", 6))
            fault_at(changes->faults, child->key_at, "%s cannot differ in a choice; its name stands for it",
                     child->key);
        else if (child->kind == BRV_NODE_MAP && child->n > 0 && !is_another_skin(path, child))
            put_all(changes, path, child);
        else {
            tell_changes(changes->choice, path, child);
            brv_path_put(changes->document, path, child, changes->own, changes->faults);
        }
    }
}

static bool is_empty(const struct brv_node *node)
{
    return node->n == 0 && (node->kind == BRV_NODE_MAP || (node->kind == BRV_NODE_TEXT && !*node->text));
}

/* Was it told before, of the scenario itself? */
static bool is_told(const struct brv_faults *faults, size_t before, const struct brv_fault *fault)
{
    for (size_t i = 0; i < before; i++) {
        const struct brv_fault *other = &faults->fault[i];
        if (other->line == fault->line && other->column == fault->column && !strcmp(other->text, fault->text))
            return true;
    }
    return false;
}

/* A fault that stands above the choice is there only because of it: its name is added. */
static void name_choice(struct brv_faults *faults, size_t before, const struct brv_node *node)
{
    char shown[BRV_SHOWN_SIZE];
    brv_fault_shown(shown, node->key);
    for (size_t i = before; i < faults->n; i++) {
        struct brv_fault *fault = &faults->fault[i];
        if (fault->line >= node->key_at.line || is_empty(node) || is_told(faults, before, fault)) continue;
        const size_t length = strlen(fault->text), room = length + strlen(shown) + sizeof " (in the choice )";
        char *longer = realloc(fault->text, room);
        if (!longer) {
            faults->out_of_memory = 1;
            return;
        }
        fault->text = longer;
        snprintf(longer + length, room - length, " (in the choice %s)", shown);
    }
}

static void read_choice(struct brv_choice *choice, struct brv_document *document, const struct brv_node *node,
                        struct brv_faults *faults)
{
    struct brv_document copy = {.whole = true};
    const char *main_file = brv_document_name(&copy, document->name[0]);
    const char *own = brv_document_name(document, document->name[0]); /* the same text, but another pointer */
    const bool made = brv_node_copy(&copy.root, &document->root);
    if (!main_file || !own || !made) faults->out_of_memory = 1;
    if (!faults->out_of_memory) {
        const struct changes changes = {&copy, own, faults, choice};
        const size_t before = faults->n;
        put_all(&changes, "", node);
        if (!faults->out_of_memory)
            brv_request_take(&choice->request, &copy, faults); /* else parts of it are missing */
        name_choice(faults, before, node);
    }
    brv_document_free(&copy);
}

/* ---- all of them ---- */

static bool is_name(const char *name)
{
    size_t letters = 0, length;
    if (!*name || strlen(name) >= BRV_CHOICE_NAME_SIZE || strpbrk(name, "\"|")) return false;
    for (const char *at = name; *at; at += length, letters++)
        if (brv_letters_is_control(brv_letters_at(at, &length))) return false;
    return letters <= BRV_CHOICE_NAME_LETTERS;
}

/* Are they what they should be, one by one? */
static void check_shape(const struct brv_node *section, struct brv_faults *faults)
{
    char shown[BRV_SHOWN_SIZE];
    if (section->kind != BRV_NODE_MAP || section->n == 0) {
        if (!section->refused)
            brv_faults_add(faults, section->at.file, section->at.line, section->at.column,
                           "choices: names are wanted, each with the keys that differ, as in "
                           "wider spot: {light.spot: 7 mm}");
        return;
    }
    if (section->n >= BRV_MOST_CHOICES)
        brv_faults_add(faults, section->at.file, section->at.line, section->at.column,
                       "choices: %zu, allowed 1 to %d beside the scenario itself", section->n, BRV_MOST_CHOICES - 1);
    for (size_t i = 0; i < section->n; i++) {
        const struct brv_node *node = &section->child[i];
        if (node->refused) continue;
        if (!is_name(node->key))
            brv_faults_add(faults, node->key_at.file, node->key_at.line, node->key_at.column,
                           "choices: %s: a name has 1 to %d letters, on one line, without quotes and bars",
                           brv_fault_shown(shown, node->key), BRV_CHOICE_NAME_LETTERS);
        if (node->kind != BRV_NODE_MAP && !is_empty(node))
            fault_at(faults, node->at, "choices: %s: keys are wanted that differ, as in {light.spot: 7 mm}", node->key);
    }
}

static bool any_is_itself(const struct brv_node *section)
{
    for (size_t i = 0; i < section->n; i++)
        if (is_empty(&section->child[i])) return true;
    return false;
}

static struct brv_choice *add(struct brv_choices *choices, const char *name)
{
    struct brv_choice *choice = &choices->choice[choices->n++];
    brv_letters_cut(choice->name, sizeof choice->name, name, BRV_CHOICE_NAME_LETTERS); /* a longer one is refused */
    return choice;
}

/* Those that are the scenario itself, or those that differ. */
static void read_some(struct brv_choice *choice, struct brv_document *document, const struct brv_node *section,
                      bool itself, struct brv_faults *faults)
{
    for (size_t i = 0; i < section->n && !faults->out_of_memory; i++) {
        if (!section->child[i].key) continue;
        if (is_empty(&section->child[i]) == itself) read_choice(choice, document, &section->child[i], faults);
        choice++;
    }
}

static void read_all(struct brv_choices *choices, struct brv_document *document, struct brv_faults *faults)
{
    const struct brv_node *section = brv_node_child(&document->root, "choices");
    const size_t before = faults->n;
    if (!section || !any_is_itself(section)) brv_request_take(&add(choices, "as written")->request, document, faults);
    if (!section) return;
    check_shape(section, faults);
    if (faults->n > before && section->n >= BRV_MOST_CHOICES) return;
    struct brv_choice *first = &choices->choice[choices->n];
    for (size_t i = 0; i < section->n; i++)
        if (section->child[i].key) add(choices, section->child[i].key);
    read_some(first, document, section, true, faults); /* what is wrong without any choice is told once, without one */
    read_some(first, document, section, false, faults);
}

/* From the document, as far as it was read; `code` is what reading it came to. */
static int take(struct brv_choices *choices, struct brv_document *document, int code, const char *const set[],
                size_t n_set, struct brv_faults *faults)
{
    *choices = (struct brv_choices){.choice = calloc(BRV_MOST_CHOICES, sizeof *choices->choice)};
    if (!choices->choice) faults->out_of_memory = 1;
    if (document->whole && !faults->out_of_memory) {
        brv_request_change(document, set, n_set, faults);
        if (faults->out_of_memory)
            ; /* parts of it are missing: there is nothing to be read */
        else if (document->root.kind == BRV_NODE_MAP)
            read_all(choices, document, faults);
        else
            brv_request_take(&add(choices, "")->request, document, faults);
        brv_faults_sort(faults, document->name[0]);
    }
    if (faults->out_of_memory)
        code = BRV_EXIT_MEMORY;
    else if (!code && faults->n)
        code = BRV_EXIT_REFUSED;
    brv_document_free(document);
    return code;
}

int brv_choices_read(struct brv_choices *choices, const char *path, const char *const set[], size_t n_set,
                     struct brv_faults *faults)
{
    struct brv_document document;
    const int code = brv_document_read(&document, path, faults);
    return take(choices, &document, code, set, n_set, faults);
}

int brv_choices_parse(struct brv_choices *choices, const char *name, const char *text, size_t size,
                      const char *const set[], size_t n_set, struct brv_faults *faults)
{
    struct brv_document document;
    const int code = brv_document_parse(&document, name, text, size, faults);
    return take(choices, &document, code, set, n_set, faults);
}

void brv_choices_free(struct brv_choices *choices)
{
    free(choices->choice);
    *choices = (struct brv_choices){.n = 0};
}
