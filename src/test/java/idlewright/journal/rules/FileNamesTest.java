package idlewright.journal.rules;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@DisplayName("A file name that somebody else chose")
class FileNamesTest {

    @ParameterizedTest(name = "{0} becomes {1}")
    @CsvSource({
        "idle run.csv, idle run.csv",
        "../../etc/passwd, passwd.csv",
        "C:\\Users\\x\\run.CSV, run.CSV",
        "run.csv.exe, run.csv.exe.csv",
        ".htaccess, htaccess.csv",
        "'run.csv. . ', run.csv",
        "CON, _CON.csv",
        "nul.csv, _nul.csv",
        "a<b>:c|d?.csv, a_b__c_d_.csv",
        "'', unnamed.csv",
        "'/', unnamed.csv",
        "..., unnamed.csv",
        "Prüfung 1 größer.csv, Prüfung 1 größer.csv"
    })
    void isMadeHarmless(String typed, String kept) {
        assertThat(FileNames.clean(typed, FileKind.CSV)).isEqualTo(kept);
    }

    @Test
    void losesControlsAndMarksThatTurnTheReadingDirection() {
        assertThat(FileNames.clean("a\u0000b\r\nc\u202egpj.exe", FileKind.JPEG)).isEqualTo("abcgpj.exe.jpg");
    }

    @Test
    void isShortenedAndKeepsItsEnding() {
        assertThat(FileNames.clean("x".repeat(500) + ".png", FileKind.PNG))
                .hasSize(104)
                .endsWith("x.png");
        assertThat(FileNames.clean("\ud83d\ude97".repeat(300) + ".png", FileKind.PNG))
                .endsWith("\ud83d\ude97.png")
                .hasSizeLessThanOrEqualTo(110);
    }
}
