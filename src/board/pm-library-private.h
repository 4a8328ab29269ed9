/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the readers of this folder look things up: files through the library, definitions inside the board file before
 * them, and a note of what was used. */
#pragma once
#include "pm-library.h"
#include "pm-xml.h"

G_BEGIN_DECLS

/* One use of the library by one board. */
typedef struct {
  PmLibrary   *library;    /* borrowed */
  char        *beside;     /* folder of the board, or NULL */
  const PmXml *inside;     /* root of the board, which may hold definitions; or NULL */
  GHashTable  *inside_names; /* of its definitions: "part 74157" -> element */
  GHashTable  *own;        /* definitions inside the board: key -> PmPartEntry; handed to the board, which keeps them */
  GHashTable  *used;       /* "part 74157" -> digest: what the board's hash is made of */
  GHashTable  *known;      /* definitions found: "part 74157" -> Known */
  GHashTable  *failed;     /* definitions whose faults have been told: key -> itself */
  GPtrArray   *files;      /* char*: full paths read */
} PmScope;

void         pm_scope_init     (PmScope *scope, PmLibrary *library, const char *beside, const PmXml *inside);
void         pm_scope_clear    (PmScope *scope);
/* The root of the definition of that kind ("host", "drive", "part", "family", "setup") and name: inside the board, else
 * from a file.  NULL with *looked (may be NULL) filled where there is none, and NULL with *looked left NULL where there
 * is one with faults, which have been told. */
const PmXml *pm_scope_find     (PmScope *scope, const char *kind, const char *name, char **looked, PmFaults *faults);
const PmPart *pm_scope_part    (PmScope *scope, const char *is, const PmFamily **family, double *value, PmSpot spot,
                                PmFaults *faults);
const PmFamily *pm_scope_family (PmScope *scope, const char *name, PmSpot spot, PmFaults *faults);
/* TRUE for an element of a board that defines something instead of using it. */
gboolean     pm_xml_is_definition (const PmXml *element);

/* A part or family that has been read. */
typedef struct {
  PmPart   *part;      /* or NULL */
  PmFamily *family;    /* the family itself, or the part's own limits of it; or NULL */
} PmPartEntry;
void         pm_part_entry_free (gpointer entry);

/* What stands behind the name of a part file: "1x3" after header, the count after socket-dip-. */
typedef struct {
  char *argument;      /* "1x3", "40", "8x1k isolated", or NULL */
  const char *family;  /* name of the family, or NULL */
} PmPartSize;
/* NULL and faults if the definition is wrong. */
PmPart      *pm_part_read      (const PmXml *element, const PmPartSize *size, PmFaults *faults);
void         pm_part_free      (PmPart *part);
/* Types with a size or a value: whether the argument fits; a fault at spot if not. */
gboolean     pm_part_check_argument (const PmXml *element, const char *is, const char *argument, PmSpot spot,
                                     PmFaults *faults);
PmFamily    *pm_family_read    (const PmXml *element, PmFaults *faults);
/* The family with what <input> and <output> of a part say instead; NULL if they say nothing of it. */
PmFamily    *pm_family_override (const PmFamily *family, const PmXml *part, PmFaults *faults);
void         pm_family_free    (PmFamily *family);

/* A name as people write it, taken apart: "SN74LS157N" is function "74157" of family "LS". FALSE if it is not such a
 * name. */
gboolean     pm_logic_name     (const char *is, char **function, char **family);

/* Words of a text, split at blanks and commas; g_strfreev. */
char       **pm_split_words    (const char *text);
G_END_DECLS
