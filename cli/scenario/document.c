#include "scenario/document.h"

#include "command/command.h"
#include "report/place.h"
#include "scenario/bytes.h"

#include <yaml.h>

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* ---- the document's own ---- */

const char *brv_document_name(struct brv_document *document, const char *name)
{
    char **grown = realloc(document->name, (document->n_name + 1) * sizeof *grown);
    if (!grown) return NULL;
    document->name = grown;
    char *copy = strdup(name);
    if (copy) document->name[document->n_name++] = copy;
    return copy;
}

void brv_document_free(struct brv_document *document)
{
    brv_node_clear(&document->root);
    for (size_t i = 0; i < document->n_name; i++) free(document->name[i]);
    free(document->name);
    *document = (struct brv_document){0};
}

/* ---- events to nodes ---- */

struct parse {
    yaml_parser_t yaml;
    yaml_event_t event; /* the one looked at */
    const char *file;
    const char *input;
    size_t size;
    struct brv_faults *faults;
    size_t n_value;
    bool stopped;         /* nothing more can be read */
    bool ended;           /* by a line of three points */
    size_t n_letter;      /* as libyaml counts them */
    struct brv_place end; /* behind the last letter of a last line that has no end; line 0: it has one */
};

/* At the end of a text libyaml ends the line by itself; what is missing there is missing behind the last letter. */
static struct brv_place place_of(const struct parse *parse, yaml_mark_t mark)
{
    if (parse->end.line && mark.index >= parse->n_letter) return parse->end;
    return (struct brv_place){parse->file, (int)mark.line + 1, (int)mark.column + 1};
}

static void fault_here(struct parse *parse, const char *text)
{
    const struct brv_place at = place_of(parse, parse->event.start_mark);
    brv_faults_add(parse->faults, at.file, at.line, at.column, "%s", text);
}

static void stop_here(struct parse *parse, const char *text)
{
    fault_here(parse, text);
    parse->stopped = true;
}

static void stop_for_memory(struct parse *parse)
{
    parse->faults->out_of_memory = 1;
    parse->stopped = true;
}

/* What libyaml says, and what helps the person who wrote the file. */
static const char *readable(const char *problem)
{
    static const struct {
        const char *problem, *text;
    } table[] = {
        {"found character that cannot start any token", "a value cannot begin with this character; put it in quotes"},
        {"found a tab character that violates indentation", "a tab stands here; indent with blanks"},
        {"found a tab character where an indentation space is expected", "a tab stands here; indent with blanks"},
        {"mapping values are not allowed in this context",
         "this colon does not fit: check the indentation of this line and the one above, and the blank after each "
         "colon, or put the value in quotes"},
        {"block sequence entries are not allowed in this context", "a `- ` does not fit here: check the indentation"},
        {"did not find expected key", "this does not fit: check the indentation, brackets and quotes up to here"},
        {"did not find expected '-' indicator", "a `- ` is wanted here, as in the list above it"},
        {"could not find expected ':'", "a colon and a blank are missing after the key that begins here"},
        {"did not find expected ',' or ']'", "the list that begins here is not closed with ]"},
        {"did not find expected ',' or '}'", "the { that stands here is not closed with }"},
        {"found unexpected end of stream", "the quotes that open here are not closed"},
        {"found unexpected document indicator", "the quotes that open here are not closed"},
        {"did not find expected <document start>", "this does not fit: check the indentation and brackets up to here"},
        {"did not find expected node content", "a value is missing here"},
    };
    for (size_t i = 0; problem && i < sizeof table / sizeof *table; i++)
        if (!strcmp(problem, table[i].problem)) return table[i].text;
    return problem ? problem : "this cannot be read";
}

static bool has_mark(const struct parse *parse)
{
    return parse->size >= 3 && !memcmp(parse->input, "\xEF\xBB\xBF", 3);
}

/* Does a line end right before `end`? As libyaml has it. */
static bool ends_line(const char *text, size_t end)
{
    const char *last = text + end;
    if (end >= 1 && (last[-1] == '\n' || last[-1] == '\r')) return true;
    if (end >= 2 && !memcmp(last - 2, "\xC2\x85", 2)) return true;
    return end >= 3 && (!memcmp(last - 3, "\xE2\x80\xA8", 3) || !memcmp(last - 3, "\xE2\x80\xA9", 3));
}

static bool begins_letter(char byte)
{
    return ((unsigned char)byte & 0xC0u) != 0x80u;
}

static void find_end(struct parse *parse)
{
    const char *text = parse->input;
    const size_t first = has_mark(parse) ? 3 : 0;
    int line = 1, column = 1;
    for (size_t at = first; at < parse->size; at++) {
        const bool ended = at > first && ends_line(text, at) && !(text[at] == '\n' && text[at - 1] == '\r');
        if (ended) {
            line++;
            column = 1;
        }
        parse->n_letter += begins_letter(text[at]);
        column += begins_letter(text[at]);
    }
    if (parse->size > first && !ends_line(text, parse->size))
        parse->end = (struct brv_place){parse->file, line, column};
}

/* libyaml counts characters, and not the byte order mark. */
static char byte_at(const struct parse *parse, yaml_mark_t mark)
{
    size_t at = has_mark(parse) ? 3 : 0;
    for (size_t passed = 0; at < parse->size && passed < mark.index; passed++) {
        at++;
        while (at < parse->size && !begins_letter(parse->input[at])) at++;
    }
    return at < parse->size ? parse->input[at] : '\0';
}

static void fault_of_syntax(struct parse *parse)
{
    const yaml_parser_t *yaml = &parse->yaml;
    if (yaml->error == YAML_MEMORY_ERROR) {
        stop_for_memory(parse);
        return;
    }

    const char *text = readable(yaml->problem);
    if (parse->ended && yaml->problem && strstr(yaml->problem, "<document start>"))
        text = "the scenario ended at the line ... above; a file holds one scenario";
    const bool begins =
        strstr(text, "not closed") || strstr(text, "begins here"); /* helps more than where it is missed */
    const yaml_mark_t mark = begins ? yaml->context_mark : yaml->problem_mark;
    if (byte_at(parse, mark) == '\t') text = "a tab stands here; indent with blanks";
    if (byte_at(parse, mark) == '-' && strstr(text, "is wanted here"))
        text = "this `- ` is indented otherwise than the one above it";

    const struct brv_place at = place_of(parse, mark);
    brv_faults_add(parse->faults, at.file, at.line, at.column, "%s", text);
    parse->stopped = true;
}

/* Goes on to the next event; false when there is none to go on with. */
static bool next(struct parse *parse)
{
    yaml_event_delete(&parse->event);
    memset(&parse->event, 0, sizeof parse->event);
    if (parse->stopped) return false;
    if (!yaml_parser_parse(&parse->yaml, &parse->event)) fault_of_syntax(parse);
    return !parse->stopped;
}

/* Anchors and tags: what stands behind them is read all the same. */
static void refuse_marks(struct parse *parse, const yaml_char_t *anchor, const yaml_char_t *tag)
{
    if (anchor) fault_here(parse, "anchors (&name) are not taken: write the value out where it is needed");
    if (tag) fault_here(parse, "tags (!name) are not taken: write the value alone");
}

static char *scalar_text(struct parse *parse)
{
    const char *value = (const char *)parse->event.data.scalar.value;
    if (strlen(value) != parse->event.data.scalar.length) {
        fault_here(parse, "a NUL character cannot stand in a text");
        return NULL;
    }
    char *text = strdup(value);
    if (!text) stop_for_memory(parse);
    return text;
}

static void take_text(struct parse *parse, struct brv_node *node)
{
    refuse_marks(parse, parse->event.data.scalar.anchor, parse->event.data.scalar.tag);
    char *text = scalar_text(parse);
    if (!text) {
        node->refused = true;
        return;
    }
    free(node->text);
    node->text = text;
}

static void take_value(struct parse *parse, struct brv_node *node, int depth);

/* Reads a value that has no place in the tree, for the faults in it. */
static void pass_over(struct parse *parse, int depth)
{
    struct brv_node unwanted = {0};
    take_value(parse, &unwanted, depth);
    brv_node_clear(&unwanted);
}

static void take_list(struct parse *parse, struct brv_node *node, int depth)
{
    refuse_marks(parse, parse->event.data.sequence_start.anchor, parse->event.data.sequence_start.tag);
    node->kind = BRV_NODE_LIST;
    while (next(parse) && parse->event.type != YAML_SEQUENCE_END_EVENT) {
        struct brv_node *child = brv_node_add(node, NULL, place_of(parse, parse->event.start_mark));
        if (!child) {
            stop_for_memory(parse);
            return;
        }
        take_value(parse, child, depth + 1);
    }
}

/* A new child for the key looked at, or NULL when the value behind it has no place: the fault is then listed. */
static struct brv_node *take_key(struct parse *parse, struct brv_node *map, int depth)
{
    if (parse->event.type != YAML_SCALAR_EVENT) {
        fault_here(parse, "a key is a plain word, followed by a colon");
        pass_over(parse, depth + 1);
        return NULL;
    }
    refuse_marks(parse, parse->event.data.scalar.anchor, parse->event.data.scalar.tag);
    char *key = scalar_text(parse);
    if (!key) return NULL;
    if (!*key) {
        fault_here(parse, "a key is missing here, in front of the colon");
        free(key);
        return NULL;
    }

    const struct brv_place at = place_of(parse, parse->event.start_mark);
    const struct brv_node *first = brv_node_child(map, key);
    struct brv_node *child = NULL;
    char shown[BRV_SHOWN_SIZE];
    if (first)
        brv_faults_add(parse->faults, at.file, at.line, at.column, "%s stands here a second time, first in line %d%s",
                       brv_fault_shown(shown, key), first->key_at.line,
                       strcmp(key, "layer") ? "" : "; a new layer begins with `- layer: NAME`");
    else if (!(child = brv_node_add(map, key, at)))
        stop_for_memory(parse);
    free(key);
    return child;
}

static void take_map(struct parse *parse, struct brv_node *node, int depth)
{
    refuse_marks(parse, parse->event.data.mapping_start.anchor, parse->event.data.mapping_start.tag);
    node->kind = BRV_NODE_MAP;
    while (next(parse) && parse->event.type != YAML_MAPPING_END_EVENT) {
        struct brv_node *child = take_key(parse, node, depth);
        if (!next(parse)) return;
        if (child)
            take_value(parse, child, depth + 1);
        else
            pass_over(parse, depth + 1);
    }
}

/* The value looked at becomes `node`; afterwards its last event is looked at. */
static void take_value(struct parse *parse, struct brv_node *node, int depth)
{
    const yaml_event_type_t type = parse->event.type;
    const bool nested = type == YAML_SEQUENCE_START_EVENT || type == YAML_MAPPING_START_EVENT;
    node->at = place_of(parse, parse->event.start_mark);
    if (++parse->n_value > BRV_DOCUMENT_VALUES) {
        stop_here(parse, "a scenario holds far fewer values than this file: reading ends here");
    } else if (nested && depth > BRV_DOCUMENT_DEPTH) {
        stop_here(parse, "nested deeper than 8 levels: reading ends here");
    } else if (type == YAML_SCALAR_EVENT) {
        take_text(parse, node);
    } else if (nested) {
        free(node->text);
        node->text = NULL;
        if (type == YAML_MAPPING_START_EVENT)
            take_map(parse, node, depth);
        else
            take_list(parse, node, depth);
    } else {
        fault_here(parse, "aliases (*name) are not taken: write the value out");
        node->refused = true;
    }
}

static void take_stream(struct parse *parse, struct brv_document *document)
{
    if (!next(parse) || !next(parse)) return; /* the stream's start, then the document's */
    if (parse->event.type == YAML_STREAM_END_EVENT) {
        brv_faults_add(parse->faults, parse->file, 0, 0, "is empty: a scenario has at least light and skin");
        return;
    }
    if (!next(parse)) return;
    take_value(parse, &document->root, 1);
    if (!next(parse)) return; /* the document's end, then the stream's */
    parse->ended = parse->event.type == YAML_DOCUMENT_END_EVENT && !parse->event.data.document_end.implicit;
    if (!next(parse)) return;
    if (parse->event.type != YAML_STREAM_END_EVENT)
        stop_here(parse, "a second document begins here; a file holds one scenario");
    document->whole = true; /* the first one is all there */
}

/* ---- a text in memory ---- */

static int outcome(const struct brv_faults *faults)
{
    if (faults->out_of_memory) return BRV_EXIT_MEMORY;
    return faults->n ? BRV_EXIT_REFUSED : BRV_EXIT_DONE;
}

static void parse_bytes(struct brv_document *document, const char *file, const char *text, size_t size,
                        struct brv_faults *faults)
{
    struct parse parse = {.file = file, .input = text, .size = size, .faults = faults};
    find_end(&parse);
    if (!yaml_parser_initialize(&parse.yaml)) {
        faults->out_of_memory = 1;
        return;
    }
    yaml_parser_set_input_string(&parse.yaml, (const unsigned char *)text, size);
    take_stream(&parse, document);
    yaml_event_delete(&parse.event);
    yaml_parser_delete(&parse.yaml);
}

int brv_document_parse(struct brv_document *document, const char *name, const char *text, size_t size,
                       struct brv_faults *faults)
{
    *document = (struct brv_document){0};
    const char *file = brv_document_name(document, name);
    if (!file)
        faults->out_of_memory = 1;
    else if (size > BRV_DOCUMENT_BYTES)
        brv_faults_add(faults, file, 0, 0, "is larger than 1 MiB: this is not a scenario");
    else if (brv_bytes_are_text(file, text, size, faults))
        parse_bytes(document, file, text, size, faults);
    return outcome(faults);
}

/* ---- files ---- */

static int trouble(struct brv_faults *faults, const char *name, const char *why)
{
    brv_faults_add(faults, name, 0, 0, "cannot be read: %s", why);
    return faults->out_of_memory ? BRV_EXIT_MEMORY : BRV_EXIT_FILE;
}

/* Want of memory is no fault of the file. */
static int trouble_of(struct brv_faults *faults, const char *name, int error)
{
    const int code = trouble(faults, name, strerror(error));
    return error == ENOMEM ? BRV_EXIT_MEMORY : code;
}

/* One byte more than may be read, so that a file that is too large shows. */
static int read_stream(char **text, size_t *size, const char *name, FILE *from, struct brv_faults *faults)
{
    const size_t room = (size_t)BRV_DOCUMENT_BYTES + 1;
    *text = malloc(room);
    if (!*text) {
        faults->out_of_memory = 1;
        return BRV_EXIT_MEMORY;
    }
    errno = 0;
    *size = fread(*text, 1, room, from);
    if (!ferror(from)) return BRV_EXIT_DONE;
    const int code = trouble_of(faults, name, errno);
    free(*text);
    *text = NULL;
    return code;
}

const char *brv_document_called(const char *path)
{
    return strcmp(path, "-") ? path : "standard input";
}

int brv_document_load(char **text, size_t *size, const char *path, struct brv_faults *faults)
{
    *text = NULL;
    *size = 0;
    if (!*path) {
        brv_faults_add(faults, "''", 0, 0, "no file has an empty name");
        return faults->out_of_memory ? BRV_EXIT_MEMORY : BRV_EXIT_FILE;
    }
    if (!strcmp(path, "-") && feof(stdin))
        return trouble(faults, brv_document_called(path), "it was read to its end already");
    if (!strcmp(path, "-")) return read_stream(text, size, brv_document_called(path), stdin, faults);

    FILE *from = fopen(path, "rb");
    const int why = errno;
    if (!from) from = brv_place_ready(path);
    if (!from) return trouble_of(faults, path, why);
    struct stat about;
    const bool directory = fstat(fileno(from), &about) == 0 && S_ISDIR(about.st_mode);
    const int code =
        directory ? trouble(faults, path, "it is a directory") : read_stream(text, size, path, from, faults);
    fclose(from);
    return code;
}

int brv_document_read(struct brv_document *document, const char *path, struct brv_faults *faults)
{
    char *text;
    size_t size;
    *document = (struct brv_document){0};
    int code = brv_document_load(&text, &size, path, faults);
    if (!code) code = brv_document_parse(document, brv_document_called(path), text, size, faults);
    free(text);
    return code;
}
