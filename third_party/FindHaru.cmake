# Finds libharu, which ships no file of its own for CMake or pkg-config. Gives Haru::Haru.
find_path(HARU_INCLUDE_DIR hpdf.h)
find_library(HARU_LIBRARY hpdf)
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(Haru DEFAULT_MSG HARU_LIBRARY HARU_INCLUDE_DIR)
if(Haru_FOUND AND NOT TARGET Haru::Haru)
  add_library(Haru::Haru UNKNOWN IMPORTED)
  set_target_properties(Haru::Haru PROPERTIES
    IMPORTED_LOCATION ${HARU_LIBRARY}
    INTERFACE_INCLUDE_DIRECTORIES ${HARU_INCLUDE_DIR})
endif()
