#include "cases.h"

#include <errno.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_DOCUMENTS = 64 };

typedef struct {
    const char *name;
    char *text;
} Document;

struct CaseFile {
    const char *path;
    char *text; /* the whole file; lines are cut out of it in place */
    char *next; /* the line to read next */
    size_t line;
    int for_c;
    Document documents[MOST_DOCUMENTS];
    size_t document_count;
    Case one;
};

static void give_up(const CaseFile *file, const char *what) {
    fprintf(stderr, "%s:%zu: %s\n", file->path, file->line, what);
    exit(2);
}

static void *need(void *memory) {
    if (memory == NULL) {
        fputs("out of memory\n", stderr);
        exit(2);
    }
    return memory;
}

/* The next line that is no comment, without its line feed; null at the end. */
static char *next_line(CaseFile *file) {
    while (*file->next != '\0') {
        char *line = file->next;
        char *end = strchr(line, '\n');
        file->line += 1;
        if (end == NULL) {
            file->next = line + strlen(line);
        } else {
            *end = '\0';
            file->next = end + 1;
        }
        if (line[0] != '#') {
            return line;
        }
    }
    return NULL;
}

/* The continuation lines that follow, joined by line feeds. */
static char *continuation(CaseFile *file) {
    size_t length = 0;
    char *text = need(calloc(1, 1));
    while (file->next[0] == '#' || strncmp(file->next, "  ", 2) == 0) {
        int comment = file->next[0] == '#';
        char *line = file->next;
        char *end = strchr(line, '\n');
        size_t size = end == NULL ? strlen(line) : (size_t)(end - line);
        file->line += 1;
        file->next = end == NULL ? line + size : end + 1;
        if (comment) {
            continue;
        }
        text = need(realloc(text, length + size + 1));
        if (length > 0) {
            text[length++] = '\n';
        }
        memcpy(text + length, line + 2, size - 2);
        length += size - 2;
        text[length] = '\0';
    }
    return text;
}

/* Cuts the next word off a line. */
static const char *cut_word(char **line) {
    char *word = *line;
    char *end = strchr(word, ' ');
    if (end == NULL) {
        *line = word + strlen(word);
    } else {
        *end = '\0';
        *line = end + 1;
    }
    return word;
}

CaseFile *case_file_open(const char *path) {
    CaseFile *file = need(calloc(1, sizeof *file));
    FILE *stream = fopen(path, "rb");
    size_t length = 0;
    size_t got = 0;
    file->path = path;
    file->for_c = 1;
    if (stream == NULL) {
        give_up(file, strerror(errno));
    }
    do {
        file->text = need(realloc(file->text, length + 65537));
        got = fread(file->text + length, 1, 65536, stream);
        length += got;
    } while (got > 0);
    fclose(stream);
    file->text[length] = '\0';
    file->next = file->text;
    return file;
}

int case_file_is_for_c(const CaseFile *file) { return file->for_c; }

static void clear_case(Case *one) {
    for (size_t i = 0; i < one->entry_count; i++) {
        free(one->entries[i].more);
    }
    memset(one, 0, sizeof *one);
}

static void read_entry(CaseFile *file, const char *word, char *rest) {
    Case *one = &file->one;
    Entry entry = {word, "", "", "", NULL};
    entry.name = cut_word(&rest);
    if (strcmp(word, "expect") == 0) {
        entry.third = cut_word(&rest);
        if (strcmp(cut_word(&rest), "within") != 0) {
            give_up(file, "expect NAME UNIT within TOLERANCE");
        }
        entry.last = rest;
    } else if (strcmp(word, "fault") == 0) {
        entry.third = strcmp(rest, "-") == 0 ? "" : rest;
    } else if (strcmp(word, "given") == 0) {
        entry.last = rest;
    } else if (strcmp(word, "bits") != 0) {
        give_up(file, "not a line of a case");
    }
    entry.more = continuation(file);
    if (one->entry_count == MOST_ENTRIES) {
        give_up(file, "too many lines in one case");
    }
    one->entries[one->entry_count++] = entry;
}

static const char *document(CaseFile *file, const char *name) {
    for (size_t i = 0; i < file->document_count; i++) {
        if (strcmp(file->documents[i].name, name) == 0) {
            return file->documents[i].text;
        }
    }
    give_up(file, "no such document before it");
    return NULL;
}

const Case *case_file_next(CaseFile *file) {
    Case *one = &file->one;
    char *line = NULL;
    clear_case(one);
    while ((line = next_line(file)) != NULL) {
        const char *word = NULL;
        if (line[0] == '\0') {
            if (one->title != NULL) {
                break;
            }
            continue;
        }
        word = cut_word(&line);
        if (strcmp(word, "case") == 0 && one->title == NULL) {
            one->title = line;
            one->line = file->line;
        } else if (one->title == NULL && strcmp(word, "languages") == 0) {
            file->for_c = 0;
            while (*line != '\0') {
                file->for_c |= strcmp(cut_word(&line), "c") == 0;
            }
        } else if (one->title == NULL && strcmp(word, "document") == 0) {
            if (file->document_count == MOST_DOCUMENTS) {
                give_up(file, "too many documents in one file");
            }
            file->documents[file->document_count].name = line;
            file->documents[file->document_count++].text = continuation(file);
        } else if (one->title == NULL) {
            give_up(file, "unknown word");
        } else if (strcmp(word, "operation") == 0) {
            one->operation = line;
        } else if (strcmp(word, "use") == 0) {
            one->document = document(file, line);
        } else {
            read_entry(file, word, line);
        }
    }
    if (one->title == NULL) {
        return NULL;
    }
    if (one->operation == NULL) {
        give_up(file, "a case without an operation");
    }
    return one;
}

void case_file_close(CaseFile *file) {
    clear_case(&file->one);
    for (size_t i = 0; i < file->document_count; i++) {
        free(file->documents[i].text);
    }
    free(file->text);
    free(file);
}

const Entry *case_entry(const Case *one, const char *word, const char *name) {
    for (size_t i = 0; i < one->entry_count; i++) {
        if (strcmp(one->entries[i].word, word) == 0 && strcmp(one->entries[i].name, name) == 0) {
            return &one->entries[i];
        }
    }
    return NULL;
}

static void not_a_value(const char *text) {
    fprintf(stderr, "not a list of values: %s\n", text);
    exit(2);
}

/* How many words a text has. */
static size_t words_in(const char *text) {
    size_t count = 0;
    for (text += strspn(text, " \n"); *text != '\0'; text += strspn(text, " \n")) {
        count += 1;
        text += strcspn(text, " \n");
    }
    return count;
}

double *numbers_of(const char *text, size_t *count) {
    const char *at = text;
    double *values = NULL;
    *count = words_in(text);
    values = need(calloc(*count + 1, sizeof *values));
    for (size_t i = 0; i < *count; i++) {
        char *end = NULL;
        values[i] = strtod(at, &end);
        if (end == at || (*end != '\0' && *end != ' ' && *end != '\n')) {
            not_a_value(text);
        }
        at = end;
    }
    return values;
}

uint64_t *bits_of(const char *text, size_t *count) {
    const char *at = text;
    uint64_t *bits = NULL;
    *count = words_in(text);
    bits = need(calloc(*count + 1, sizeof *bits));
    for (size_t i = 0; i < *count; i++) {
        at += strspn(at, " \n");
        if (strspn(at, "0123456789abcdef") != 16) {
            not_a_value(text);
        }
        bits[i] = strtoull(at, NULL, 16);
        at += 16;
    }
    return bits;
}

static const char *given(const Case *one, const char *name) {
    const Entry *entry = case_entry(one, "given", name);
    if (entry == NULL) {
        fprintf(stderr, "%s: no argument %s\n", one->title, name);
        exit(2);
    }
    return entry->last;
}

double given_number(const Case *one, const char *name) {
    size_t count = 0;
    double *values = numbers_of(given(one, name), &count);
    double value = values[0];
    free(values);
    if (count != 1) {
        not_a_value(name);
    }
    return value;
}

uint32_t given_count(const Case *one, const char *name) {
    const char *text = given(one, name);
    char *end = NULL;
    unsigned long long value = strtoull(text, &end, 10);
    if (end == text || *end != '\0' || text[0] == '-' || value > UINT32_MAX) {
        not_a_value(text);
    }
    return (uint32_t)value;
}
