/* Completion for bash and zsh: commands, options, and values that are words. All of it stands in the script that is
 * written here, so that no program is started while somebody types.                                               */
#include "command/command.h"
#include "command/explain.h"
#include "command/help.h"
#include "command/options.h"
#include "scenario/body.h"

#include <stdio.h>
#include <string.h>

typedef void path_row(const char *path, const char *const *words, bool numeric);

/* ---- paths that --set and --vary take, with the layers of a ready skin ---- */

static const char *const layers[] = {"epidermis", "basal", "dermis", NULL};

static void each_of_layers(const struct brv_key *key, path_row *row, bool numeric)
{
    static const char *const before[] = {"skin", "lesion"};
    char path[96];
    for (size_t i = 0; layers[i]; i++)
        for (size_t j = 0; j < sizeof before / sizeof *before; j++) {
            snprintf(path, sizeof path, "%s.%s.%s", before[j], layers[i], key->name);
            row(path, NULL, numeric);
        }
}

static void each_key(path_row *row)
{
    char path[96];
    for (size_t i = 0; i < brv_n_keys; i++) {
        const struct brv_key *key = &brv_keys[i];
        const bool numeric = key->kind == BRV_QUANTITY || key->kind == BRV_NUMBER || key->kind == BRV_EXTENT;
        const char *const *words = key->kind == BRV_LAYER_REF ? layers : key->words;
        if (key->scope == BRV_SCOPE_LAYER && key->kind == BRV_WORD) continue; /* a layer that is ready keeps its kind */
        if (key->scope == BRV_SCOPE_LAYER) {
            each_of_layers(key, row, numeric);
            continue;
        }
        snprintf(path, sizeof path, "%s.%s", brv_scope_name(key->scope), key->name);
        row(path, words, numeric);
        if (key->scope != BRV_SCOPE_GRAIN) continue;
        snprintf(path, sizeof path, "lesion.grain.%s", key->name);
        row(path, words, numeric);
    }
}

/* Keys and, where there are such, ready words that are no rows of the table of keys. */
static void each_path(path_row *row)
{
    const char *ready[BRV_N_PRESET + 1] = {NULL}, *sites[BRV_N_BODY_SITE + 1] = {NULL};
    for (int i = 0; i < BRV_N_PRESET; i++) ready[i] = brv_ready_skins[i].name;
    for (int i = 0; i < BRV_N_BODY_SITE; i++) sites[i] = brv_body_sites[i].name;
    each_key(row);
    row("skin", ready, false);
    row("skin.site", sites, false);
}

static void put_path(const char *path, const char *const *words, bool numeric)
{
    (void)words, (void)numeric;
    printf(" %s", path);
}

static void put_numeric(const char *path, const char *const *words, bool numeric)
{
    (void)words;
    if (numeric) printf(" %s", path);
}

/* "    light.profile) values=(flat gaussian) ;;" */
static void put_case(const char *path, const char *const *words, bool numeric)
{
    (void)numeric;
    if (!words) return;
    printf("    %s) values=(", path);
    for (size_t i = 0; words[i]; i++) printf("%s%s", i ? " " : "", words[i]);
    puts(") ;;");
}

/* The function that both scripts share: sets `values` for a path. */
static void put_values(void)
{
    puts("_brevis_values()\n{\n    values=()\n    case $1 in");
    each_path(put_case);
    puts("    esac\n}\n");
}

static void put_list(const char *name, path_row *row)
{
    printf("%s=(", name);
    each_path(row);
    puts(")");
}

static void put_word(const char *word, void *to)
{
    fprintf(to, " %s", word);
}

static void put_head(const char *shell)
{
    printf("# Words of brevis " BRV_VERSION " for %s. Written by `brevis help --shell %s`; changes belong there.\n",
           shell, shell);
    put_values();
    put_list("_brevis_paths", put_path);
    put_list("_brevis_numbers", put_numeric);
    putchar('\n');
}

/* ---- bash ---- */

static void put_bash_command(const struct brv_command *command)
{
    printf("    %s)\n        options=(", command->name);
    for (size_t i = 0; brv_options_row(i); i++)
        if (brv_options_row(i)->bit & (command->options | BRV_OPTION_HELP))
            printf("%s--%s", i ? " " : "", brv_options_row(i)->name);
    fputs(")\n", stdout);
    if (command->words) {
        fputs("        words=(", stdout);
        command->words(put_word, stdout);
        puts(" )");
    }
    puts("        ;;");
}

/* Options that want a value of which nothing is known. */
static void put_bash_valued(void)
{
    const char *before = "    ";
    for (size_t i = 0; brv_options_row(i); i++) {
        const struct brv_option_row *row = brv_options_row(i);
        if (!row->value || row->bit & (BRV_OPTION_OUT | BRV_OPTION_SET | BRV_OPTION_VARY | BRV_OPTION_SHELL)) continue;
        printf("%s--%s", before, row->name);
        before = " | ";
    }
    puts(") return ;;");
}

/* `light.profile=flat` is one word or three, as COMP_WORDBREAKS has it; `--out=x` likewise. */
static const char bash_begin[] =
    "_brevis()\n"
    "{\n"
    "    local word=${COMP_WORDS[COMP_CWORD]} at=$((COMP_CWORD - 1)) key= option= before=\n"
    "    local -a options=() words=() values=()\n"
    "    COMPREPLY=()\n";

static const char bash_parts[] = "    if [[ $word == = ]]; then\n"
                                 "        word= key=${COMP_WORDS[at]} at=$((at - 1))\n"
                                 "    elif [[ ${COMP_WORDS[at]} == = ]]; then\n"
                                 "        key=${COMP_WORDS[at - 1]} at=$((at - 2))\n"
                                 "    elif [[ $word == *=* ]]; then\n"
                                 "        key=${word%=*} word=${word##*=} before=$key=\n"
                                 "    fi\n"
                                 "    option=${COMP_WORDS[at]}\n"
                                 "    [[ $option == = ]] && option=${COMP_WORDS[at - 1]}\n"
                                 "    [[ $key == --*=* ]] && option=${key%%=*} key=${key#*=}\n"
                                 "    [[ $key == --* ]] && option=$key key=\n";

static const char bash_end[] = "    if [[ $word == -* ]]; then\n"
                               "        mapfile -t COMPREPLY < <(compgen -W \"${options[*]}\" -- \"$word\")\n"
                               "    elif ((${#words[@]})); then\n"
                               "        mapfile -t COMPREPLY < <(compgen -W \"${words[*]}\" -- \"$word\")\n"
                               "    else\n"
                               "        compopt -o filenames 2>/dev/null\n"
                               "        mapfile -t COMPREPLY < <(compgen -f -- \"$word\")\n"
                               "    fi\n"
                               "}\n"
                               "complete -F _brevis brevis";

/* What follows an option that takes a value. */
static const char bash_values[] =
    "    case $option in\n"
    "    --set | --vary)\n"
    "        if [[ -n $key ]]; then\n"
    "            [[ $option == --vary ]] && return\n"
    "            _brevis_values \"$key\"\n"
    "            mapfile -t COMPREPLY < <(compgen -P \"$before\" -W \"${values[*]}\" -- \"$word\")\n"
    "            return\n"
    "        fi\n"
    "        values=(\"${_brevis_paths[@]}\")\n"
    "        [[ $option == --vary ]] && values=(\"${_brevis_numbers[@]}\")\n"
    "        compopt -o nospace 2>/dev/null\n"
    "        mapfile -t COMPREPLY < <(compgen -P \"$before\" -S = -W \"${values[*]}\" -- \"$word\")\n"
    "        return\n"
    "        ;;\n"
    "    --out)\n"
    "        compopt -o filenames 2>/dev/null\n"
    "        mapfile -t COMPREPLY < <(compgen -P \"$before\" -d -- \"$word\")\n"
    "        return\n"
    "        ;;\n"
    "    --shell)\n"
    "        mapfile -t COMPREPLY < <(compgen -P \"$before\" -W 'bash zsh' -- \"$word\")\n"
    "        return\n"
    "        ;;";

void brv_shell_bash(void)
{
    put_head("bash");
    fputs(bash_begin, stdout);
    fputs("    if ((COMP_CWORD == 1)); then\n        words=(", stdout);
    brv_help_words(put_word, stdout);
    puts(" --help --version)\n        mapfile -t COMPREPLY < <(compgen -W \"${words[*]}\" -- \"$word\")\n        "
         "return\n    fi");
    puts("    case ${COMP_WORDS[1]} in");
    for (const struct brv_command *command = brv_commands; command->name; command++) put_bash_command(command);
    puts("    esac");
    fputs(bash_parts, stdout);
    puts(bash_values);
    put_bash_valued();
    puts("    esac");
    puts(bash_end);
}

/* ---- zsh ---- */

/* Text within single quotes, where [ ] and : have a meaning of their own. */
static void put_quoted(const char *text)
{
    for (const char *c = text; *c; c++) {
        if (strchr("[]:\\", *c)) putchar('\\');
        if (*c == '\'')
            fputs("'\\''", stdout);
        else
            putchar(*c);
    }
}

static const char *zsh_action(const struct brv_option_row *row)
{
    switch (row->bit) {
    case BRV_OPTION_OUT:
        return "_files -/";
    case BRV_OPTION_SET:
        return "_brevis_path ${_brevis_paths}";
    case BRV_OPTION_VARY:
        return "_brevis_path ${_brevis_numbers}";
    case BRV_OPTION_SHELL:
        return "(bash zsh)";
    default:
        return " ";
    }
}

static void put_zsh_option(const struct brv_option_row *row)
{
    const bool again = (row->bit & (BRV_OPTION_SET | BRV_OPTION_VARY)) != 0;
    printf(" \\\n            '%s--%s%s[", again ? "*" : "", row->name, row->value ? "=" : "");
    put_quoted(row->text);
    putchar(']');
    if (row->value) {
        putchar(':');
        put_quoted(row->value);
        printf(":%s", zsh_action(row));
    }
    putchar('\'');
}

static void put_zsh_command(const struct brv_command *command)
{
    printf("    %s)\n        _arguments", command->name);
    for (size_t i = 0; brv_options_row(i); i++)
        if (brv_options_row(i)->bit & (command->options | BRV_OPTION_HELP)) put_zsh_option(brv_options_row(i));
    fputs(" \\\n            ", stdout);
    if (command->words) {
        fputs("'*:word:(", stdout);
        command->words(put_word, stdout);
        fputs(" )'", stdout);
    } else
        fputs("'*:scenario:_files'", stdout);
    puts("\n        ;;");
}

static const char zsh_path[] = "_brevis_path()\n"
                               "{\n"
                               "    local -a values\n"
                               "    if compset -P '*='; then\n"
                               "        _brevis_values ${${IPREFIX%=}##*=}\n"
                               "        (( $#values )) && compadd -a values\n"
                               "    else\n"
                               "        values=($argv)\n"
                               "        compadd -S = -a values\n"
                               "    fi\n"
                               "}\n";

void brv_shell_zsh(void)
{
    puts("#compdef brevis");
    put_head("zsh");
    puts(zsh_path);
    puts("_brevis()\n{\n    local -a commands\n    commands=(");
    for (const struct brv_command *command = brv_commands; command->name; command++) {
        printf("        '%s:", command->name);
        put_quoted(command->answers);
        puts("'");
    }
    puts(
        "    )\n    if (( CURRENT == 2 )); then\n        _describe -t commands 'command' commands\n        return\n    "
        "fi\n    shift words\n    (( CURRENT-- ))\n    case $words[1] in");
    for (const struct brv_command *command = brv_commands; command->name; command++) put_zsh_command(command);
    puts("    esac\n}\n\nif [[ $zsh_eval_context[-1] == loadautofunc ]]; then\n    _brevis \"$@\"\nelse\n    compdef "
         "_brevis brevis\nfi");
}
