#include "lesson/numbers.h"

#include "report/caution.h"
#include "report/number.h"
#include "report/sheet.h"
#include "report/page.h"
#include "report/words.h"

#include <math.h>
#include <string.h>

enum { HEAD_SIZE = 160, KEY_SIZE = 256, LABEL_SIZE = 8 };

double brv_problem_ratio(const struct brv_problem_key *key)
{
    return key->value / key->unit->scale / key->printed;
}

bool brv_problem_published(const struct brv_problem_key *key)
{
    return !isnan(key->printed) && strcmp(key->seen, "computed") != 0;
}

/* "numbers as printed", "numbers of seed 7" */
static const char *whose(char out[HEAD_SIZE], const struct brv_problems *problems)
{
    char hash[BRV_PROBLEMS_HASH];
    brv_problems_hash(hash, problems);
    if (problems->drawn)
        snprintf(out, HEAD_SIZE, "numbers of seed %lu, sheet %s", (unsigned long)problems->seed, hash);
    else
        snprintf(out, HEAD_SIZE, "numbers as printed, sheet %s", hash);
    return out;
}

/* "fluence: 1.415 J/cm2; printed: 1.42 (course-problems, seen)" */
static const char *key_text(char out[KEY_SIZE], const struct brv_problem_key *key)
{
    char value[BRV_PROBLEM_SAID], printed[BRV_PROBLEM_SAID];
    brv_problem_number(value, key->value / key->unit->scale, key->unit->name);
    brv_problem_number(printed, key->printed, "");
    if (isnan(key->printed))
        snprintf(out, KEY_SIZE, "%s: %s", key->quantity, value);
    else
        snprintf(out, KEY_SIZE, "%s: %s; %s: %s [%s, %s]%s", key->quantity, value,
                 brv_problem_published(key) ? "printed" : "by hand", printed, key->source, key->seen,
                 key->slip ? " - a slip" : "");
    return out;
}

static void add_cautions(struct brv_sheet *lines)
{
    char cautions[BRV_CAUTION_SIZE];
    brv_sheet_add(lines, "CAUTION", "%s", brv_caution_text(cautions));
}

static const char about_keys[] =
    "Keys are computed by the model and given to four digits; a reading is seldom good to two. Published numbers come "
    "from other devices, skins and editions: they are shown to check the reckoning, not to be set.";

static bool begins_subject(const struct brv_problems *problems, size_t i)
{
    return i == 0 || strcmp(problems->problem[i].subject, problems->problem[i - 1].subject) != 0;
}

/* ---- as text ---- */

static void text_head(FILE *to, const struct brv_problems *problems, const char *what)
{
    char head[HEAD_SIZE];
    fprintf(to, "brevis %s   %s   %s   [%s]\n", BRV_VERSION, what, BRV_NUMBERS_NAME, whose(head, problems));
}

static void text_end(FILE *to)
{
    struct brv_sheet lines = {.n = 0};
    add_cautions(&lines);
    fputc('\n', to);
    brv_sheet_text(to, &lines);
}

static void text_subject(FILE *to, const struct brv_problems *problems, size_t i)
{
    if (begins_subject(problems, i)) fprintf(to, "\n%s\n", problems->problem[i].subject);
}

static void text_question(FILE *to, const struct brv_problem *problem)
{
    char label[LABEL_SIZE];
    snprintf(label, sizeof label, "%d", problem->no);
    brv_words_wrap(to, label, problem->question);
}

void brv_numbers_question_text(FILE *to, const struct brv_problems *problems)
{
    text_head(to, problems, "NUMBER PROBLEMS");
    for (size_t i = 0; i < BRV_N_PROBLEM; i++) {
        text_subject(to, problems, i);
        text_question(to, &problems->problem[i]);
        brv_words_wrap(to, "", "________________________________________________________________");
    }
    text_end(to);
}

static void text_answer(FILE *to, const struct brv_problem *problem)
{
    char text[KEY_SIZE];
    for (size_t k = 0; k < problem->n_step; k++) {
        char step[BRV_PROBLEM_STEP + 4];
        snprintf(step, sizeof step, "- %s", problem->step[k]);
        brv_words_wrap(to, "", step);
    }
    for (size_t k = 0; k < problem->n_key; k++) brv_words_wrap(to, k ? "" : "KEY", key_text(text, &problem->key[k]));
}

void brv_numbers_answer_text(FILE *to, const struct brv_problems *problems)
{
    text_head(to, problems, "KEY TO THE NUMBER PROBLEMS");
    for (size_t i = 0; i < BRV_N_PROBLEM; i++) {
        text_subject(to, problems, i);
        if (!begins_subject(problems, i)) fputc('\n', to);
        text_question(to, &problems->problem[i]);
        text_answer(to, &problems->problem[i]);
    }
    fputc('\n', to);
    brv_words_wrap(to, "READING", about_keys);
    text_end(to);
}

/* ---- for the terminal ---- */

static void text_subjects(FILE *to, const struct brv_problems *problems)
{
    for (size_t i = 0; i < BRV_N_PROBLEM; i++) {
        size_t last = i;
        if (!begins_subject(problems, i)) continue;
        while (last + 1 < BRV_N_PROBLEM && !begins_subject(problems, last + 1)) last++;
        if (last > i)
            fprintf(to, "  %2d to %-2d  %s\n", problems->problem[i].no, problems->problem[last].no,
                    problems->problem[i].subject);
        else
            fprintf(to, "  %2d        %s\n", problems->problem[i].no, problems->problem[i].subject);
    }
}

void brv_numbers_question_summary(FILE *to, const struct brv_problems *problems)
{
    text_head(to, problems, "NUMBER PROBLEMS");
    fputc('\n', to);
    text_subjects(to, problems);
    fputs("\nOne of them:\n", to);
    text_question(to, &problems->problem[0]);
    fputc('\n', to);
    brv_words_wrap(to, "DO",
                   "Reckon on paper, then: brevis lesson numbers --answers, with the same --seed if there was one. "
                   "--seed 7 draws other numbers; the same seed makes the same sheet, and its key follows.");
    text_end(to);
}

static void count_keys(const struct brv_problems *problems, size_t *keys, size_t *published, size_t *by_hand)
{
    *keys = *published = *by_hand = 0;
    for (size_t i = 0; i < BRV_N_PROBLEM; i++)
        for (size_t k = 0; k < problems->problem[i].n_key; k++) {
            const struct brv_problem_key *key = &problems->problem[i].key[k];
            ++*keys;
            if (brv_problem_published(key))
                ++*published;
            else if (!isnan(key->printed))
                ++*by_hand;
        }
}

/* The table of multipliers alone would fill the screen: of each problem its first key, and slips. */
static void text_published(FILE *to, const struct brv_problem *problem)
{
    for (size_t k = 0; k < problem->n_key; k++) {
        const struct brv_problem_key *key = &problem->key[k];
        char value[BRV_PROBLEM_SAID], printed[BRV_PROBLEM_SAID];
        if (!brv_problem_published(key) || (k && !key->slip)) continue;
        fprintf(to, "  %-4d%-40.40s%-14s%-10s%-7.3f%s, %s%s\n", problem->no, key->quantity,
                brv_problem_number(value, key->value / key->unit->scale, key->unit->name),
                brv_problem_number(printed, key->printed, ""), brv_problem_ratio(key), key->source, key->seen,
                key->slip ? " (a slip)" : "");
    }
}

void brv_numbers_answer_summary(FILE *to, const struct brv_problems *problems)
{
    size_t keys, published, by_hand;
    count_keys(problems, &keys, &published, &by_hand);
    text_head(to, problems, "KEY TO THE NUMBER PROBLEMS");
    fprintf(to, "\n%d problems, %zu keys; %zu have a number that others printed, %zu one worked out by hand.\n",
            BRV_N_PROBLEM, keys, published, by_hand);
    if (published)
        fprintf(to, "\n  %-4s%-40s%-14s%-10s%-7s%s\n", "no", "first key", "computed", "printed", "ratio", "source");
    for (size_t i = 0; i < BRV_N_PROBLEM; i++) text_published(to, &problems->problem[i]);
    fputs(problems->drawn ? "\nNumbers were drawn, so nothing is printed for them.\n\n" : "\n", to);
    brv_words_wrap(to, "READING", about_keys);
    text_end(to);
}

/* ---- to print ---- */

static void page_head(FILE *to, const struct brv_problems *problems, const char *title)
{
    char head[HEAD_SIZE];
    fprintf(
        to,
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" BRV_PAGE_POLICY
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>%s: %s</title>\n<style>\n"
        "@page { size: A4; margin: 12mm }\n"
        "body { font: 10pt/1.3 sans-serif; color: #000; background: #fff; max-width: 186mm; margin: 6mm auto; "
        "padding: 0 2mm }\n"
        "@media print { body { margin: 0 auto } }\n"
        "h1 { font-size: 15pt; margin: 0 0 1mm } h2 { font-size: 11pt; margin: 4mm 0 1mm; break-after: avoid }\n"
        "section { break-inside: avoid; margin: 0 0 2mm } p { margin: 0.8mm 0; padding-left: 8mm; text-indent: -8mm }\n"
        "b { display: inline-block; min-width: 8mm; text-indent: 0 } ul { margin: 0.5mm 0 0.5mm 8mm; padding-left: 4mm "
        "}\n"
        ".small { font-size: 8pt; padding-left: 0; text-indent: 0 } .small b { margin-right: 2mm }\n"
        ".write { border-bottom: 1px solid #777; height: 7mm; margin-left: 8mm }\n"
        ".key { margin-left: 8mm; border-left: 2px solid #000; padding-left: 2mm }\n"
        "</style>\n</head>\n<body>\n<h1>%s</h1>\n<p class=\"small\">%s. A teaching model, not a medical device: "
        "numbers to reckon with, not to set.</p>\n",
        BRV_NUMBERS_NAME, title, title, whose(head, problems));
}

static void page_foot(FILE *to, const struct brv_problems *problems, const char *what)
{
    char head[HEAD_SIZE];
    struct brv_sheet lines = {.n = 0};
    add_cautions(&lines);
    brv_sheet_page(to, &lines, " class=\"small\"");
    fprintf(to, "<p class=\"small\">brevis %s, lesson %s, %s; %s. A teaching model.</p>\n</body>\n</html>\n",
            BRV_VERSION, BRV_NUMBERS_NAME, what, whose(head, problems));
}

static void page_question(FILE *to, const struct brv_problems *problems, size_t i)
{
    if (begins_subject(problems, i)) brv_sheet_put_in(to, "h2", problems->problem[i].subject);
    fprintf(to, "<section><p><b>%d</b>", problems->problem[i].no);
    brv_page_put(to, problems->problem[i].question);
    fputs("</p>\n", to);
}

void brv_numbers_question_page(FILE *to, const struct brv_problems *problems)
{
    page_head(to, problems, "Number problems");
    for (size_t i = 0; i < BRV_N_PROBLEM; i++) {
        page_question(to, problems, i);
        fputs("<div class=\"write\"></div>\n<div class=\"write\"></div></section>\n", to);
    }
    page_foot(to, problems, "question sheet");
}

static void page_answer(FILE *to, const struct brv_problem *problem)
{
    char text[KEY_SIZE];
    fputs("<ul>\n", to);
    for (size_t k = 0; k < problem->n_step; k++) {
        brv_sheet_put_in(to, "li", problem->step[k]);
        fputc('\n', to);
    }
    fputs("</ul>\n", to);
    for (size_t k = 0; k < problem->n_key; k++) {
        fputs("<div class=\"key\">", to);
        brv_page_put(to, key_text(text, &problem->key[k]));
        fputs("</div>\n", to);
    }
}

void brv_numbers_answer_page(FILE *to, const struct brv_problems *problems)
{
    page_head(to, problems, "Key to the number problems");
    for (size_t i = 0; i < BRV_N_PROBLEM; i++) {
        page_question(to, problems, i);
        page_answer(to, &problems->problem[i]);
        fputs("</section>\n", to);
    }
    brv_sheet_put_in(to, "p", about_keys);
    page_foot(to, problems, "key");
}

/* ---- for who teaches ---- */

static void csv_words(FILE *to, const char *text)
{
    fputc('"', to);
    for (const char *c = text; *c; c++) {
        if (*c == '"') fputc('"', to);
        fputc(*c, to);
    }
    fputc('"', to);
}

static void csv_row(FILE *to, const struct brv_problem *problem, const struct brv_problem_key *key)
{
    char number[BRV_NUMBER_SIZE];
    const bool published = brv_problem_published(key);
    fprintf(to, "%d,", problem->no);
    csv_words(to, problem->subject);
    fputc(',', to);
    csv_words(to, key->quantity);
    fprintf(to, ",%s,", *key->unit->name ? key->unit->name : "1");
    fprintf(to, "%s,", brv_number_exact(number, key->value / key->unit->scale));
    fprintf(to, "%s,", brv_number_exact(number, published ? key->printed : (double)NAN));
    fprintf(to, "%s,", brv_number_exact(number, published ? (double)NAN : key->printed));
    fprintf(to, "%s,%s,", key->source ? key->source : "", key->seen ? key->seen : "");
    fprintf(to, "%s,", brv_number_exact(number, brv_problem_ratio(key)));
    fprintf(to, "%s,%s\r\n", brv_number_exact(number, key->value), key->unit->si);
}

void brv_numbers_csv(FILE *to, const struct brv_problems *problems)
{
    fputs("problem,subject,quantity,unit,key,published,by_hand,source,seen,ratio,key_si,unit_si\r\n", to);
    for (size_t i = 0; i < BRV_N_PROBLEM; i++)
        for (size_t k = 0; k < problems->problem[i].n_key; k++)
            csv_row(to, &problems->problem[i], &problems->problem[i].key[k]);
}
