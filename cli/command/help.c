/* `brevis help`: commands in words, and what was meant by a word that is none. */
#include "command/help.h"

#include "command/options.h"
#include "scenario/fault.h"
#include "scenario/nearest.h"

#include <string.h>
#include <unistd.h>

bool brv_help_asked(const char *word)
{
    return !strcmp(word, "--help") || !strcmp(word, "-h");
}

const struct brv_command *brv_help_called(const char *name)
{
    for (const struct brv_command *command = brv_commands; command->name; command++)
        if (!strcmp(command->name, name)) return command;
    return NULL;
}

void brv_help_words(void (*offer)(const char *word, void *to), void *to)
{
    for (const struct brv_command *command = brv_commands; command->name; command++) offer(command->name, to);
}

void brv_help_list(FILE *to)
{
    fputs("brevis COMMAND [OPTIONS] SCENARIO...   a model to learn from, not to treat by\n\n", to);
    for (const struct brv_command *command = brv_commands; command->name; command++)
        brv_options_wrap(to, command->answers, (size_t)fprintf(to, "  %-9s ", command->name));
    fputs("\nA scenario is a text file; `-` reads it from standard input.\nMore: brevis help COMMAND; exit codes: "
          "brevis help --page\n",
          to);
}

/* ---- one command ---- */

static void print_examples(const char *examples)
{
    fputs("\nFor example\n", stdout);
    for (const char *line = examples; *line; line += strspn(line, "\n")) {
        const size_t length = strcspn(line, "\n");
        printf("  %s%.*s\n", *line == ' ' ? "" : "brevis ", (int)length, line); /* a blank: the line before goes on */
        line += length;
    }
}

int brv_help_command(const char *name)
{
    const struct brv_command *command = brv_help_called(name);
    if (!command) return brv_help_unknown(name);
    printf("brevis %s %s\n\n  ", command->name, command->usage);
    brv_options_wrap(stdout, command->answers, 2);
    putchar('\n');
    brv_options_help(command->options);
    if (command->examples) print_examples(command->examples);
    return BRV_EXIT_DONE;
}

/* ---- a word that is no command ---- */

/* Did somebody leave the command out? */
static bool looks_like_scenario(const char *word)
{
    const size_t length = strlen(word);
    if (!strcmp(word, "-") || strchr(word, '/')) return true;
    if (length > 5 && !strcmp(word + length - 5, ".yaml")) return true;
    return (length > 4 && !strcmp(word + length - 4, ".yml")) || access(word, F_OK) == 0;
}

int brv_help_unknown(const char *word)
{
    char shown[BRV_SHOWN_SIZE];
    struct brv_nearest nearest = {.word = word};
    for (const struct brv_command *command = brv_commands; command->name; command++)
        brv_nearest_offer(&nearest, command->name);
    brv_fault_shown(shown, word);
    if (!*word)
        fputs("brevis: an empty word is no command; `brevis help` lists them\n", stderr);
    else if (nearest.best)
        fprintf(stderr, "brevis: there is no command %s; did you mean %s?\n", shown, nearest.best);
    else if (word[0] == '-' && word[1])
        fprintf(stderr, "brevis: %s: a command comes first, options after it; `brevis help` lists them\n", shown);
    else if (looks_like_scenario(word))
        fprintf(stderr,
                "brevis: a command comes before the scenario, as in `brevis run %s`; `brevis help` lists them\n",
                shown);
    else
        fprintf(stderr, "brevis: there is no command %s; `brevis help` lists them\n", shown);
    return BRV_EXIT_USAGE;
}

/* ---- the command ---- */

static int print_page(const struct brv_options *options)
{
    if (options->n_word && strcmp(options->word[0], "scenario")) {
        fputs("brevis help: --page takes the word scenario, or none\n", stderr);
        return BRV_EXIT_USAGE;
    }
    if (options->n_word)
        brv_manual_scenario();
    else
        brv_manual_program();
    return BRV_EXIT_DONE;
}

static int print_shell(const struct brv_options *options)
{
    const char *name = options->shell;
    if (options->n_word || options->given & BRV_OPTION_PAGE) {
        fprintf(stderr, "brevis help: %s\n",
                options->n_word ? "--shell takes no command" : "give --page or --shell, not both");
        return BRV_EXIT_USAGE;
    }
    if (!strcmp(name, "bash"))
        brv_shell_bash();
    else if (!strcmp(name, "zsh"))
        brv_shell_zsh();
    else {
        char shown[BRV_SHOWN_SIZE];
        fprintf(stderr, "brevis help: --shell takes bash or zsh, not %s\n", brv_fault_shown(shown, name));
        return BRV_EXIT_USAGE;
    }
    return BRV_EXIT_DONE;
}

int brv_command_help(int argc, char *argv[])
{
    struct brv_options options;
    if (argc == 1 || (argc == 2 && brv_help_asked(argv[1]))) {
        brv_help_list(stdout);
        return BRV_EXIT_DONE;
    }
    const int stop = brv_options_read(&options, argc, argv, BRV_HELP_OPTIONS, 0, 1, "one command");
    if (stop >= 0) return stop;
    if (options.shell) return print_shell(&options);
    if (options.given & BRV_OPTION_PAGE) return print_page(&options);
    return brv_help_command(options.word[0]);
}
