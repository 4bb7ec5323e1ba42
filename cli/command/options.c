#include "command/options.h"

#include "command/command.h"
#include "command/help.h"
#include "scenario/fault.h"
#include "scenario/letters.h"
#include "scenario/nearest.h"

#include <ctype.h>
#include <getopt.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const struct brv_option_row table[] = {
    {BRV_OPTION_OUT, "out", "DIR", "where the results go; default: out/ and the scenario's name"},
    {BRV_OPTION_FORCE, "force", NULL, "replace results that are there already"},
    {BRV_OPTION_JSON, "json", NULL, "the summary on standard output, as JSON"},
    {BRV_OPTION_NO_FIGURES, "no-figures", NULL, "numbers and text only"},
    {BRV_OPTION_THREADS, "threads", "N", "how many threads; the results do not depend on it"},
    {BRV_OPTION_CSV, "csv", NULL, "comma-separated values instead of a table"},
    {BRV_OPTION_SPECTRUM, "spectrum", NULL, "what absorbs from 400 to 1100 nm instead, as comma-separated values"},
    {BRV_OPTION_PAGE, "page", NULL, "everything as a page: Markdown, of help a manual page"},
    {BRV_OPTION_SET, "set", "PATH=VALUE", "another value for one key, such as light.spot=\"6 mm\"; may be repeated"},
    {BRV_OPTION_VARY, "vary", "KEY=FROM..TO:N",
     "a key and its values, N of them; :log after N spaces them evenly in "
     "the logarithm; once or twice"},
    {BRV_OPTION_PART, "part", "I/N", "only part I of N, for several machines; --join puts the parts together"},
    {BRV_OPTION_JOIN, "join", NULL, "puts all parts together: the same bytes as one run"},
    {BRV_OPTION_DRAWS, "draws", "N", "how many times the inputs are drawn, 32 to 4096; default 256"},
    {BRV_OPTION_METER_ERROR, "meter-error", "SHARE",
     "error of the meter, the same in all readings, such as \"5 %\"; default 20 %"},
    {BRV_OPTION_SPOT_ERROR, "spot-error", "SHARE", "error of a measured spot, likewise; default 5 %"},
    {BRV_OPTION_ANSWERS, "answers", NULL, "the worked answer too, with the numbers of the same run"},
    {BRV_OPTION_SEED, "seed", "N", "lesson numbers: draws other numbers, 0 to 999999; the same seed, the same sheet"},
    {BRV_OPTION_SHELL, "shell", "NAME", "what bash or zsh needs to complete words of brevis"},
    {BRV_OPTION_QUIET, "quiet", NULL, "say nothing but faults"},
    {BRV_OPTION_HELP, "help", NULL, "this text"},
};

#define MOST_PARTS 9999

enum { N_OPTION = sizeof table / sizeof *table, SHOWN_SIZE = 512 };

static int usage(const char *command, const char *text, const char *about)
{
    char shown[SHOWN_SIZE];
    fprintf(stderr, "brevis %s: %s%s; `brevis %s --help` tells more\n", command, text,
            brv_letters_shown(shown, sizeof shown, about), command);
    return BRV_EXIT_USAGE;
}

/* Is it rather the name of a file? */
static bool looks_like_file(const char *word)
{
    return strchr(word, '.') || (word[1] && word[2] && access(word, F_OK) == 0);
}

/* The word that getopt stopped in: it goes on from one only behind its last letter. */
static const char *word_of_letter(char *argv[])
{
    const char *here = argv[optind];
    const bool inside = here && here[0] == '-' && here[1] && here[1] != '-' && strchr(here + 1, optopt);
    return inside ? here : argv[optind - 1];
}

/* One letter after one dash; getopt keeps it apart, since several may stand in one word. */
static int unknown_letter(const char *command, const char *word)
{
    char text[96];
    const char letter = (char)(isprint(optopt) ? optopt : '?');
    snprintf(text, sizeof text, "there is no option -%c; a file whose name begins with a dash is written ./", letter);
    if (looks_like_file(word)) return usage(command, text, word);
    return usage(command, "there is no option ", (const char[]){'-', letter, '\0'});
}

/* "--quiet=yes": getopt then tells which option it was, as it tells a letter. */
static bool has_value_too_many(const char *word)
{
    const size_t length = strcspn(word, "=");
    if (strncmp(word, "--", 2) || !word[length]) return false;
    for (size_t i = 0; i < N_OPTION; i++)
        if ((int)table[i].bit == optopt && !strncmp(table[i].name, word + 2, length - 2)) return true;
    return false;
}

/* The option that is spelled so, with or without `=VALUE`, whoever takes it; 0: nobody does. */
static unsigned option_called(const char *word)
{
    const size_t length = strcspn(word, "=");
    for (size_t i = 0; i < N_OPTION; i++)
        if (strlen(table[i].name) == length && !strncmp(table[i].name, word, length)) return table[i].bit;
    return 0;
}

/* "brevis run: --draws belongs to spread": an option that is sound, at the wrong command. */
static int elsewhere(const char *command, const char *word, unsigned bit)
{
    char shown[BRV_SHOWN_SIZE];
    const char *before = "";
    fprintf(stderr, "brevis %s: %s belongs to ", command, brv_fault_shown(shown, word));
    for (const struct brv_command *other = brv_commands; other->name; other++) {
        if (!(other->options & bit)) continue;
        fprintf(stderr, "%s%s", before, other->name);
        before = ", ";
    }
    fprintf(stderr, "; `brevis %s --help` tells what %s takes\n", command, command);
    return BRV_EXIT_USAGE;
}

static int unknown(char *argv[], unsigned allowed)
{
    const char *command = argv[0], *word = argv[optind - 1];
    if (optopt && has_value_too_many(word)) return usage(command, "no value belongs after this option: ", word);
    if (optopt) return unknown_letter(command, word_of_letter(argv));
    const unsigned bit = option_called(word + 2);
    if (bit) return elsewhere(command, word, bit);
    struct brv_nearest nearest = {.word = word + 2}; /* after the dashes */
    char text[160], shown[BRV_SHOWN_SIZE];
    for (size_t i = 0; i < N_OPTION; i++)
        if (table[i].bit & (allowed | BRV_OPTION_HELP)) brv_nearest_offer(&nearest, table[i].name);
    snprintf(text, sizeof text, nearest.best ? "there is no option %s; did you mean --%s?" : "there is no option %s",
             brv_fault_shown(shown, word), nearest.best);
    if (!nearest.best && looks_like_file(word))
        return usage(command, "there is no such option; a file whose name begins with a dash is written ./", word);
    if (!nearest.best) return usage(command, text, "");
    fprintf(stderr, "brevis %s: %s\n", command, text);
    return BRV_EXIT_USAGE;
}

static void list_allowed(struct option list[N_OPTION + 1], unsigned allowed)
{
    size_t n = 0;
    for (size_t i = 0; i < N_OPTION; i++)
        if (table[i].bit & allowed)
            list[n++] = (struct option){table[i].name, table[i].value ? required_argument : no_argument, NULL,
                                        (int)table[i].bit};
    list[n] = (struct option){NULL, 0, NULL, 0};
}

static bool read_whole(unsigned *whole, const char *text, long least, long most)
{
    char *end;
    const long value = strtol(text, &end, 10);
    if (*end || end == text || value < least || value > most) return false;
    *whole = (unsigned)value;
    return true;
}

/* "2/8": the second of eight. */
static bool read_part(unsigned *part, unsigned *parts, const char *text)
{
    char one[8];
    const size_t length = strcspn(text, "/");
    if (text[length] != '/' || length >= sizeof one) return false;
    memcpy(one, text, length);
    one[length] = '\0';
    return read_whole(part, one, 1, MOST_PARTS) && read_whole(parts, text + length + 1, 1, MOST_PARTS) &&
           *part <= *parts;
}

/* Keeps one more of a list. */
static bool keep(const char *list[], size_t *n, size_t most, const char *value)
{
    if (*n == most) return false;
    list[(*n)++] = value;
    return true;
}

/* What one option with a value means. NULL, or what is wrong with it. */
static const char *take_value(struct brv_options *options, int bit, const char *value)
{
    switch (bit) {
    case BRV_OPTION_OUT:
        options->out = value;
        return strlen(value) < BRV_OPTIONS_PATH ? NULL : "--out takes a path of less than 4096 bytes, not ";
    case BRV_OPTION_THREADS:
        return read_whole(&options->threads, value, 1, 1024) ? NULL : "--threads takes 1 to 1024, not ";
    case BRV_OPTION_SEED:
        return read_whole(&options->seed, value, 0, 999999) ? NULL : "--seed takes 0 to 999999, not ";
    case BRV_OPTION_SET:
        if (*value == '=' || !strchr(value, '=')) return "--set takes PATH=VALUE, such as light.spot=\"6 mm\", not ";
        return keep(options->set, &options->n_set, BRV_MOST_SETS, value) ? NULL : "too many --set, at ";
    case BRV_OPTION_VARY:
        return keep(options->vary, &options->n_vary, BRV_MOST_VARIES, value) ? NULL : "two --vary at most, at ";
    case BRV_OPTION_PART:
        return read_part(&options->part, &options->parts, value) ? NULL
                                                                 : "--part takes one of up to 9999, as 2/8, not ";
    case BRV_OPTION_METER_ERROR:
        options->meter_error = value;
        return NULL;
    case BRV_OPTION_SPOT_ERROR:
        options->spot_error = value;
        return NULL;
    case BRV_OPTION_SHELL:
        options->shell = value;
        return NULL;
    case BRV_OPTION_DRAWS:
        return read_whole(&options->draws, value, 32, 4096) ? NULL : "--draws takes 32 to 4096, not ";
    default:
        return NULL;
    }
}

int brv_options_read(struct brv_options *options, int argc, char *argv[], unsigned allowed, int least, int most,
                     const char *wanted)
{
    struct option list[N_OPTION + 1];
    list_allowed(list, allowed | BRV_OPTION_HELP);
    *options = (struct brv_options){.command = argv[0]};
    unsetenv("POSIXLY_CORRECT"); /* getopt would take all that stands behind the first word for words */
    opterr = 0;
    optind = 1;
    for (int option; (option = getopt_long(argc, argv, ":h", list, NULL)) != -1;) {
        if (option == ':') return usage(argv[0], "a value is missing after ", argv[optind - 1]);
        if (option == '?') return unknown(argv, allowed);
        if (option == BRV_OPTION_HELP || option == 'h') return brv_help_command(argv[0]);
        const char *fault = optarg ? take_value(options, option, optarg) : NULL;
        if (fault) return usage(argv[0], fault, optarg);
        options->given |= (unsigned)option;
    }
    options->word = argv + optind;
    options->n_word = argc - optind;
    if (options->n_word >= least && options->n_word <= most) return -1;
    return usage(argv[0], options->n_word < least ? "missing: " : "too many words; wanted: ", wanted);
}

const struct brv_option_row *brv_options_row(size_t i)
{
    return i < N_OPTION ? &table[i] : NULL;
}

const char *brv_options_first(unsigned given)
{
    for (size_t i = 0; i < N_OPTION; i++)
        if (table[i].bit & given) return table[i].name;
    return NULL;
}

void brv_options_wrap(FILE *to, const char *text, size_t indent)
{
    size_t column = indent;
    for (const char *word = text; *word; word += strspn(word, " ")) {
        const size_t length = strcspn(word, " ");
        if (column > indent && column + 1 + length > BRV_HELP_WIDTH) {
            fprintf(to, "\n%*s", (int)indent, "");
            column = indent;
        }
        column += (size_t)fprintf(to, "%s%.*s", column > indent ? " " : "", (int)length, word);
        word += length;
    }
    fputc('\n', to);
}

void brv_options_help(unsigned allowed)
{
    char head[48];
    for (size_t i = 0; i < N_OPTION; i++) {
        if (!(table[i].bit & (allowed | BRV_OPTION_HELP))) continue;
        const bool help = table[i].bit == BRV_OPTION_HELP;
        snprintf(head, sizeof head, "%s--%s %s", help ? "-h, " : "", table[i].name,
                 table[i].value ? table[i].value : "");
        brv_options_wrap(stdout, table[i].text, (size_t)printf("  %-22s  ", head));
    }
}
