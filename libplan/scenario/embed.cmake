# cmake -DFILES="a.yaml;b.yaml" -DOUT=embedded_data.cpp -P embed.cmake
# -DHEADER=… -DNAMESPACE=… where another room than libplan/scenario declares embedded_files().
# Writes the files as character arrays (string literals of this length are not portable).
if(NOT DEFINED HEADER)
  set(HEADER scenario/embedded.h)
  set(NAMESPACE plan)
endif()
list(SORT FILES)
set(arrays "")
set(rows "")
set(number 0)
foreach(file IN LISTS FILES)
  get_filename_component(name ${file} NAME)
  file(READ ${file} bytes HEX)
  string(REGEX REPLACE "(................................)" "\\1\n" bytes "${bytes}")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," bytes "${bytes}")
  string(APPEND arrays "constexpr char file_${number}[] = {\n${bytes}'\\0'};\n")
  string(APPEND rows "    {\"${name}\", {file_${number}, sizeof file_${number} - 1}},\n")
  math(EXPR number "${number} + 1")
endforeach()
if(number EQUAL 0)
  set(body "  return {};\n")
else()
  set(body "  return files;\n")
  set(rows "constexpr EmbeddedFile files[] = {\n${rows}};\n")
endif()
file(WRITE ${OUT} "#include \"${HEADER}\"

namespace ${NAMESPACE} {
namespace {
${arrays}${rows}}  // namespace

std::span<const EmbeddedFile> embedded_files() {
${body}}

}  // namespace ${NAMESPACE}
")
