# Writes build_info.cpp with the present revision; leaves the file alone when nothing changed, so nothing is rebuilt.
execute_process(COMMAND git describe --always --dirty=+ --abbrev=10 WORKING_DIRECTORY ${SOURCE_DIR}
                OUTPUT_VARIABLE id OUTPUT_STRIP_TRAILING_WHITESPACE ERROR_QUIET)
if(NOT id)
  set(id "unversioned")
endif()
set(text "#include \"api/build_info.h\"

namespace rollwright::api {

std::string version() { return \"${VERSION}\"; }
std::string build_id() { return \"${id}\"; }

}  // namespace rollwright::api
")
if(EXISTS ${OUTPUT})
  file(READ ${OUTPUT} present)
endif()
if(NOT "${present}" STREQUAL "${text}")
  file(WRITE ${OUTPUT} "${text}")
endif()
