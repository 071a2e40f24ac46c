package idlewright.people.rules;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class WeakTest {

    @ParameterizedTest
    @ValueSource(
            strings = {
                "short",
                "123456789",
                "1234567890",
                "0987654321",
                "aaaaaaaaaaaa",
                "abcdefghijkl",
                "password123",
                "Password2026",
                "qwertyuiop",
                "tamsin2026",
                "Tamsin Oakes 1",
                "oakes.tamsin"
            })
    void refusesAPasswordThatIsGuessedAtOnce(String password) {
        assertThat(Weak.password(password, "Tamsin Oakes", "tamsin")).isPresent();
    }

    @ParameterizedTest
    @ValueSource(strings = {"three loose hose clamps", "Zq7-plum-ladder", "tamsin hums at the lathe all day"})
    void takesAPasswordOfAFewWords(String password) {
        assertThat(Weak.password(password, "Tamsin Oakes", "tamsin")).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(strings = {"0000", "1234", "654321", "7890", "1212", "123", "1234567", "12a4", "١٢٣٤"})
    void refusesAPinWithAPatternOrOfWrongLength(String pin) {
        assertThat(Weak.pin(pin)).isPresent();
    }

    @ParameterizedTest
    @ValueSource(strings = {"2580", "40718", "915263"})
    void takesAPinWithoutAPattern(String pin) {
        assertThat(Weak.pin(pin)).isEmpty();
    }
}
