# rollwright_subject(<folder> [LIBRARIES <third-party targets>] [PRIVATE_LIBRARIES <...>] [TEST_LIBRARIES <...>]
#                    [FOLDERS <inner folders>] [EXTRA <generated sources>])
#
# Makes one static library from src/<folder>/*.cpp (and those of the inner folders), one test program from *_test.cpp and one benchmark program from
# *_bench.cpp. What it links of our own folders is read from layers.txt, so that the layer picture and the build cannot
# part company.

file(STRINGS ${CMAKE_SOURCE_DIR}/layers.txt ROLLWRIGHT_LAYERS REGEX "^[a-z]+:")
set_property(DIRECTORY ${CMAKE_SOURCE_DIR} APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/layers.txt)

function(rollwright_subject folder)
  cmake_parse_arguments(ARG "" "" "LIBRARIES;PRIVATE_LIBRARIES;TEST_LIBRARIES;FOLDERS;EXTRA" ${ARGN})
  set(dir ${CMAKE_SOURCE_DIR}/src/${folder})
  set(patterns ${dir}/*.cpp)
  foreach(inner IN LISTS ARG_FOLDERS)
    list(APPEND patterns ${dir}/${inner}/*.cpp)
  endforeach()
  file(GLOB sources CONFIGURE_DEPENDS ${patterns})
  list(APPEND sources ${ARG_EXTRA})
  set(tests ${sources})
  set(benches ${sources})
  list(FILTER sources EXCLUDE REGEX "_(test|bench)\\.cpp$")
  list(FILTER tests INCLUDE REGEX "_test\\.cpp$")
  list(FILTER benches INCLUDE REGEX "_bench\\.cpp$")

  set(own "")
  foreach(line IN LISTS ROLLWRIGHT_LAYERS)
    if(line MATCHES "^${folder}:(.*)$")
      string(STRIP "${CMAKE_MATCH_1}" names)
      separate_arguments(names)
      foreach(name IN LISTS names)
        if(EXISTS ${CMAKE_SOURCE_DIR}/src/${name}/CMakeLists.txt)
          list(APPEND own rollwright_${name})
        endif()
      endforeach()
    endif()
  endforeach()

  set(library rollwright_${folder})
  if(sources)
    add_library(${library} STATIC ${sources})
    set(reach PUBLIC)
    target_link_libraries(${library} PRIVATE ${ARG_PRIVATE_LIBRARIES})
  else()
    add_library(${library} INTERFACE)
    set(reach INTERFACE)
  endif()
  target_include_directories(${library} ${reach} ${CMAKE_SOURCE_DIR}/src)
  target_link_libraries(${library} ${reach} ${own} ${ARG_LIBRARIES} rollwright_options)

  # Where threads are: race conditions are looked for in these folders; the subjects have no threads of their own and stay
  # as they are built for everybody, so that this build is small.
  if(sources AND folder IN_LIST ROLLWRIGHT_TSAN)
    target_compile_options(${library} PRIVATE -fsanitize=thread -g1)
  endif()

  if(tests AND ROLLWRIGHT_TESTS)
    add_executable(${folder}_test ${tests})
    target_link_libraries(${folder}_test PRIVATE ${library} rollwright_test_main ${ARG_PRIVATE_LIBRARIES} ${ARG_TEST_LIBRARIES})
    target_compile_definitions(${folder}_test PRIVATE ROLLWRIGHT_SOURCE_DIR="${CMAKE_SOURCE_DIR}")
    if(folder IN_LIST ROLLWRIGHT_TSAN)
      target_compile_options(${folder}_test PRIVATE -fsanitize=thread -g1)
    endif()
    gtest_discover_tests(${folder}_test TEST_PREFIX "${folder}." DISCOVERY_MODE PRE_TEST
                         PROPERTIES LABELS "quick;${folder}" TIMEOUT 600)
  endif()
  if(benches AND ROLLWRIGHT_BENCHMARKS)
    add_executable(${folder}_bench ${benches})
    target_link_libraries(${folder}_bench PRIVATE ${library} benchmark::benchmark_main ${ARG_PRIVATE_LIBRARIES} ${ARG_TEST_LIBRARIES})
    target_compile_definitions(${folder}_bench PRIVATE ROLLWRIGHT_SOURCE_DIR="${CMAKE_SOURCE_DIR}")
  endif()
endfunction()
