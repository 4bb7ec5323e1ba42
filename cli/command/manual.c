/* The manual pages, in mdoc. Prose stands on lines of its own, so that no word of it is taken for a macro. */
#include "command/command.h"
#include "command/explain.h"
#include "command/help.h"
#include "command/options.h"
#include "report/caution.h"
#include "scenario/unit.h"

#include <math.h>
#include <string.h>

#ifndef BRV_DATE
#define BRV_DATE "November 26, 2026" /* of the version */
#endif

static const struct {
    int code;
    const char *text;
} exits[] = {
    {BRV_EXIT_DONE,
     "done; a walk of photons that its number ends at a larger error than light.error is done, with a note"},
    {BRV_EXIT_USAGE, "the words on the command line are wrong"},
    {BRV_EXIT_REFUSED, "the scenario, or a key of it, is refused; every fault is told with its line and column"},
    {BRV_EXIT_FILE, "a file cannot be read or written, or results are there already"},
    {BRV_EXIT_NUMERICS, "the arithmetic failed its own check, and nothing was written: budget of the light (1e-8), "
                        "audit of the heat (1e-10), or a step of a method"},
    {BRV_EXIT_MEMORY, "out of memory"},
    {BRV_EXIT_INTERRUPTED, "interrupted; what was complete is kept"},
};

static const struct {
    const char *name, *text;
} files[] = {
    {"out/NAME/", "results of run: figures, tables, summary.txt and summary.json; NAME is the scenario's name without "
                  "its ending, or stdin"},
    {"out/NAME-COMMAND/", "results of other commands"},
    {"out/NAME-sweep.parts/", "finished points of a sweep that has not ended; the same command goes on from them"},
    {"share/brevis/", "scripts of figures and scenarios that come with the program, where it is installed"},
};

/* Every variable that the program looks at (tests/cli/manual.sh compares this with the code). */
static const struct {
    const char *name, *text;
} environment[] = {
    {"BREVIS_DATA", "folder that holds plots/ and scenarios/ in place of those that came with the program"},
    {"COLUMNS", "width of a terminal; pipes and files have their own"},
    {"NO_COLOR", "when it is set, nothing is marked at a terminal"},
    {"OMP_NUM_THREADS", "how many threads are used where --threads does not say; the results do not depend on it"},
    {"OMP_STACKSIZE",
     "stack of each further thread: 128k is enough for a run; the first thread has what ulimit -s says, "
     "where 128 kB are enough for a run and 512 kB for every command"},
    {"PATH", "where gnuplot is looked for; only folders in it that begin with / count"},
    {"TERM", "dumb: nothing is marked at this terminal"},
};

/* Letters that the page's own language would take as its own. */
static void put_escaped(const char *text)
{
    for (const char *c = text; *c; c++) {
        const bool first = c == text || c[-1] == '\n';
        switch (*c) {
        case '\\':
            fputs("\\e", stdout);
            break;
        case '`':
            fputs("\\(ga", stdout);
            break;
        case '~':
            fputs("\\(ti", stdout);
            break;
        case '^':
            fputs("\\(ha", stdout);
            break;
        case '-':
            fputs("\\-", stdout);
            break;
        case '\'':
            fputs("\\(aq", stdout);
            break;
        case '"':
            fputs("\\(dq", stdout);
            break;
        case ' ':
            if (!first) putchar(' '); /* a blank at the beginning would break the paragraph */
            break;
        default:
            if (*c == '.' && first) fputs("\\&", stdout);
            putchar(*c);
        }
    }
}

/* A sentence, or several lines of them: its own lines of the page. */
static void put_text(const char *text)
{
    const char *line = text;
    while (*line) { /* blanks that indent a line of help are left out */
        char one[256];
        line += strspn(line, " ");
        const size_t length = strcspn(line, "\n");
        snprintf(one, sizeof one, "%.*s", (int)length, line);
        put_escaped(one);
        putchar('\n');
        line += length + (line[length] == '\n');
    }
}

/* A word of a macro's line, where blanks and quotes would part it. */
static void put_word(const char *text)
{
    putchar('"');
    put_escaped(text);
    putchar('"');
}

static void put_item(const char *macro, const char *name, const char *text)
{
    printf(".It %s ", macro);
    put_word(name);
    putchar('\n');
    put_text(text);
}

/* ".Fl -out Ns , Fl -force": names of options in a row. */
static void put_options(unsigned allowed)
{
    const char *before = ".Fl \\-";
    for (size_t i = 0; brv_options_row(i); i++) {
        const struct brv_option_row *row = brv_options_row(i);
        if (!(row->bit & (allowed | BRV_OPTION_HELP))) continue;
        fputs(before, stdout);
        put_escaped(row->name);
        before = " ,\n.Fl \\-";
    }
    puts(" .");
}

static void put_commands(void)
{
    puts(".Sh COMMANDS\n.Bl -tag -width Ds");
    for (const struct brv_command *command = brv_commands; command->name; command++) {
        printf(".It Ic %s No ", command->name);
        put_word(command->usage);
        putchar('\n');
        put_text(command->answers);
        puts(".br\nOptions:");
        put_options(command->options);
    }
    puts(".El");
}

static void put_option_list(void)
{
    puts(".Sh OPTIONS\nEach command takes those that are named with it.\n.Bl -tag -width Ds");
    for (size_t i = 0; brv_options_row(i); i++) {
        const struct brv_option_row *row = brv_options_row(i);
        fputs(row->bit == BRV_OPTION_HELP ? ".It Fl h , Fl \\-" : ".It Fl \\-", stdout);
        put_escaped(row->name);
        if (row->value) {
            fputs(" Ar ", stdout);
            put_word(row->value);
        }
        putchar('\n');
        put_text(row->text);
    }
    puts(".El");
}

static void put_sections(void)
{
    static const char *const plain[] = {"lesion", "choices", "spread"};
    puts(".Sh SCENARIO\nA scenario is a text file in YAML; every value carries its unit.\nIts sections are\n"
         ".Bl -tag -width Ds");
    for (size_t i = 0; brv_explain_section(i); i++)
        put_item("Ic", brv_explain_section(i)->name, brv_explain_section(i)->text);
    for (size_t i = 0; i < sizeof plain / sizeof *plain; i++)
        put_item("Ic", plain[i], brv_explain_plain(plain[i]) + strlen("section "));
    puts(".El\n.Pp\nEvery key with its range, default and source is in\n.Xr brevis-scenario 5\nand in\n"
         ".Ic brevis explain .");
}

static void put_examples(void)
{
    puts(".Sh EXAMPLES\nScenarios of the project's top folder:");
    for (const struct brv_command *command = brv_commands; command->name; command++) {
        if (!command->examples) continue;
        fputs(".Pp\n", stdout);
        put_text(command->answers);
        fputs(".Bd -literal -offset indent\n", stdout);
        for (const char *line = command->examples; *line; line += strspn(line, "\n")) {
            char one[256];
            const size_t length = strcspn(line, "\n");
            snprintf(one, sizeof one, "%.*s", (int)length, line);
            fputs(*line == ' ' ? "\\&    " : "brevis ", stdout);
            put_escaped(one + strspn(one, " "));
            putchar('\n');
            line += length;
        }
        puts(".Ed");
    }
}

static void put_head(const char *title, const char *name, const char *what)
{
    printf(".\\\" Written by `brevis help --page` from the tables of the program; changes belong there.\n"
           ".Dd " BRV_DATE "\n.Dt %s\n.Os brevis " BRV_VERSION "\n.Sh NAME\n.Nm %s\n.Nd ",
           title, name);
    put_text(what);
}

static void put_cautions(void)
{
    puts(".Sh CAVEATS");
    for (size_t i = 0; i < brv_n_cautions; i++) put_text(brv_cautions[i]);
}

void brv_manual_program(void)
{
    put_head("BREVIS 1", "brevis", "light and heat in skin under a short pulse, a model to learn from");
    puts(".Sh SYNOPSIS\n.Nm\n.Ar command\n.Op Ar option ...\n.Ar scenario ...\n.Nm\n.Fl \\-version\n"
         ".Sh DESCRIPTION\n.Nm\ncomputes what a pulse of light does in layers of skin and in one pigment grain: where "
         "the light goes,\nhow warm grain and layers become, and what that means.\nIt is for understanding, and not "
         "for choosing settings for a person; see\n.Sx CAVEATS .\n.Pp\nResults go to a directory, what was found is "
         "told on standard "
         "output, faults and progress on standard error.\nResults that are there already are kept unless\n.Fl "
         "\\-force\nis given.\nThe same scenario gives the same bytes on every run.\nA\n.Ar scenario\nof\n.Sq -\nis "
         "read from standard input.");
    put_commands();
    put_option_list();
    put_sections();
    puts(".Sh ENVIRONMENT\n.Bl -tag -width Ds");
    for (size_t i = 0; i < sizeof environment / sizeof *environment; i++)
        put_item("Ev", environment[i].name, environment[i].text);
    puts(".El\n.Sh FILES\n.Bl -tag -width Ds");
    for (size_t i = 0; i < sizeof files / sizeof *files; i++) put_item("Pa", files[i].name, files[i].text);
    puts(".El\n.Sh EXIT STATUS\n.Bl -tag -width Ds");
    for (size_t i = 0; i < sizeof exits / sizeof *exits; i++) {
        printf(".It %d\n", exits[i].code);
        put_text(exits[i].text);
    }
    puts(".El");
    put_examples();
    puts(".Sh SEE ALSO\n.Xr brevis-scenario 5");
    put_cautions();
}

/* ---- what may stand in a scenario ---- */

static void put_key(const struct brv_key *key)
{
    char allowed[BRV_ALLOWED_SIZE], standard[BRV_ALLOWED_SIZE], list[BRV_UNIT_LIST_SIZE];
    printf(".It Ic %s\n", key->name);
    put_text(key->help);
    fputs(".br\nAllowed: ", stdout);
    put_text(brv_allowed(allowed, key));
    if (key->dimension != BRV_PURE) {
        fputs(".br\nUnits: ", stdout);
        put_text(brv_unit_list(list, key->dimension));
    }
    fputs(".br\nDefault: ", stdout);
    brv_explain_default(standard, key);
    put_text(strcmp(standard, "-") ? standard : "none");
    fputs(".br\nSource: ", stdout);
    if (strcmp(key->source, "-"))
        printf("%s (%s)\n", key->source, key->seen);
    else
        puts("this project");
}

static void put_kinds(void)
{
    const char *const *kinds = brv_keys[brv_key_find(BRV_SCOPE_LAYER, "kind")].words;
    char value[BRV_ALLOWED_SIZE], line[BRV_ALLOWED_SIZE + 40];
    puts(".Sh DEFAULTS BY KIND OF LAYER\n.Bl -tag -width Ds");
    for (size_t row = 0; row < brv_n_keys; row++) {
        const struct brv_key *key = &brv_keys[row];
        if (strcmp(brv_explain_default(value, key), "by kind")) continue;
        printf(".It Ic %s\n", key->name);
        for (size_t i = 0; i < BRV_N_KIND; i++) {
            snprintf(line, sizeof line, "%s %s%s", kinds[i], brv_allowed_value(value, key, key->standard[i]),
                     i + 1 < BRV_N_KIND ? "," : "");
            put_text(line);
        }
    }
    puts(".El");
}

void brv_manual_scenario(void)
{
    static const char *const plain[] = {"title", "lesion", "choices", "spread"};
    put_head("BREVIS-SCENARIO 5", "brevis-scenario", "what may stand in a scenario of brevis");
    puts(".Sh DESCRIPTION\nA scenario is one document in YAML.\nEvery value carries its unit; a bare number is refused "
         "where a unit belongs.\nKeys that are not known, values out of range and words that are none of those "
         "allowed are refused with line and column, and nothing is computed.\n.Ic brevis explain KEY\ntells one key "
         "in full, with its spread;\n.Ic brevis check\nlooks a file over.\n.Pp\nA source is named as in "
         "docs/sources.md, with how it was seen.");
    for (size_t i = 0; brv_explain_section(i); i++) {
        const struct brv_section *section = brv_explain_section(i);
        fputs(".Sh SECTION ", stdout);
        put_escaped(section->name);
        putchar('\n');
        put_text(section->text);
        puts(".Bl -tag -width Ds");
        for (size_t row = 0; row < brv_n_keys; row++)
            if (brv_explain_within(&brv_keys[row], section->name)) put_key(&brv_keys[row]);
        puts(".El");
    }
    puts(".Sh OTHER SECTIONS\n.Bl -tag -width Ds");
    for (size_t i = 0; i < sizeof plain / sizeof *plain; i++)
        put_item("Ic", plain[i], brv_explain_plain(plain[i]) + strlen("section "));
    puts(".El");
    put_kinds();
    puts(".Sh EXAMPLES\n.Bd -literal -offset indent\ntitle: My first skin\nlight:\n  wavelength: 532 nm\n  pulse: 7 "
         "ns\n  spot: 4 mm\n  fluence: 0.6 J/cm2\nskin: light\nlesion:\n  basal.melanosomes: 25 %\n.Ed\n.Sh SEE "
         "ALSO\n.Xr brevis 1");
    put_cautions();
}
