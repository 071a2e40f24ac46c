package idlewright.people.rules;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.NullSource;
import org.junit.jupiter.params.provider.ValueSource;

class LocalPathTest {

    @ParameterizedTest
    @ValueSource(strings = {"/", "/counter", "/tickets/1042?tab=proof", "/tickets/1042/symptoms/1"})
    void takesAPathOfThisHouse(String path) {
        assertThat(LocalPath.of(path)).contains(path);
    }

    @ParameterizedTest
    @NullSource
    @ValueSource(
            strings = {
                "",
                "counter",
                "//elsewhere.example",
                "/\\elsewhere.example",
                "\\/elsewhere.example",
                "https://elsewhere.example/",
                "/a\r\nSet-Cookie: x=y",
                "/\t/elsewhere.example",
                "javascript:alert(1)"
            })
    void refusesEverythingElse(String path) {
        assertThat(LocalPath.of(path)).isEmpty();
    }
}
