// One edit of every kind a scenario can have, by the slice it changes, in the words of the language.
//
//   const FolderTexts base = with_edits(shipped("hamlet"), edit_kinds());
//   for (const EditKind& kind : edit_kinds()) … the scenario has an edit of that name …
//
// `<premises>`, `<route>` and `<site>` stand for names of the estate, filled in by with_edits().
#pragma once
#include <string>
#include <vector>

#include "laws/planned.h"

namespace plan {

struct EditKind {
  std::string_view slice, name, change;
};
const std::vector<EditKind>& edit_kinds();

// The scenario with two sites given (none of them forced) and every kind of edit appended.
FolderTexts with_edits(FolderTexts texts);

}  // namespace plan
