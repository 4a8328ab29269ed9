/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Safe reading of XML into a light tree.  For the readers of this folder only.
 *
 * No network, no external entities, no entity but the five predefined ones, no declarations inside a DOCTYPE; at most
 * PM_XML_MAX_BYTES, PM_XML_MAX_DEPTH and PM_XML_MAX_ELEMENTS; regular files only, never waited for.  Elements and
 * attributes of other namespaces are left out.  Line numbers are true for any number of lines.
 */
#pragma once
#include "pm-fault.h"

G_BEGIN_DECLS

#define PM_XML_NAMESPACE "urn:x-pointsman:1"
#define PM_XML_MAX_BYTES (8 * 1024 * 1024)
#define PM_XML_MAX_DEPTH 64
#define PM_XML_MAX_ELEMENTS 50000

typedef struct { const char *name, *value; } PmXmlAttribute;

typedef struct _PmXml PmXml;
struct _PmXml {
  const char     *file;          /* interned, as messages show it */
  const char     *name;          /* without prefix */
  const char     *text;          /* its own text, children left out; never NULL */
  guint           line;          /* of its "<" */
  guint           text_line;     /* of the first byte of text */
  PmXmlAttribute *attributes;
  guint           n_attributes;
  PmXml          *parent, *children, *next;
};

typedef struct _PmXmlFile PmXmlFile;

/* Opens, checks and reads a file to memory.  NULL and a fault if it is not a regular file of at most PM_XML_MAX_BYTES.
 * g_free. */
char        *pm_xml_read_bytes (const char *path, const char *shown, gsize *length, PmFaults *faults);
/* Reads a file.  root: name that its root must have, "board" say.  NULL and one fault where it cannot be read. */
PmXmlFile   *pm_xml_read       (const char *path, const char *shown, const char *root, PmFaults *faults);
PmXmlFile   *pm_xml_parse      (const char *shown, const char *text, gsize length, const char *root, PmFaults *faults);
void         pm_xml_free       (PmXmlFile *file);
const PmXml *pm_xml_root       (const PmXmlFile *file);

/* NULL if the element has no such attribute. */
const char  *pm_xml_get        (const PmXml *element, const char *name);
PmSpot       pm_xml_spot       (const PmXml *element);
/* First child of that name, or NULL. */
const PmXml *pm_xml_child      (const PmXml *element, const char *name);
/* Text of the first child of that name with its blanks folded, or NULL; g_free. */
char        *pm_xml_dup_text_of (const PmXml *element, const char *name);
gboolean     pm_xml_is         (const PmXml *element, const char *name);
/* TRUE for "yes"; usual where the attribute is not there.  The vocabulary refuses anything but yes and no. */
gboolean     pm_xml_yes        (const PmXml *element, const char *name, gboolean usual);
/* Index of the attribute's value in a NULL-terminated list; usual where the attribute is not there or not in the list
 * (a fault). */
int          pm_xml_choice     (const PmXml *element, const char *name, const char *const *choices, int usual,
                                PmFaults *faults);
/* A whole number from low to high; anything else is a fault and gives FALSE.  FALSE without a fault where the attribute
 * is not there. */
gboolean     pm_xml_number     (const PmXml *element, const char *name, guint low, guint high, guint *out,
                                PmFaults *faults);
/* Adds to a digest: names, attributes by name, text with its blanks folded.  skip says which children are left out; may
 * be NULL. */
void         pm_xml_digest     (const PmXml *element, GChecksum *sum, gboolean (*skip) (const PmXml *child));
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PmXmlFile, pm_xml_free)
G_END_DECLS
