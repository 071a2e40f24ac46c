package idlewright.frame.rules;

import static org.assertj.core.api.Assertions.assertThat;

import com.ibm.icu.text.ArabicShaping;
import com.ibm.icu.text.Bidi;
import java.util.SplittableRandom;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("Words from right to left")
class RightToLeftTest {

    private static final String ARABIC = "ابتثجحخدذرزسشصضطظعغفقكلمنهويءآأإؤئةىـپچژگکی";
    private static final String HEBREW = "אבגדהוזחטיכלמנסעפצקרשתךםןףץ";

    @Test
    void joinsArabicAsIcuDoes() throws Exception {
        // ICU4J 78.1, com.ibm.icu.text.ArabicShaping. It does not join the Persian letters, nor alef maksura to what
        // follows it, as Unicode's ArabicShaping.txt does (0649 is D); so these stand aside here.
        var icu = new ArabicShaping(
                ArabicShaping.LETTERS_SHAPE | ArabicShaping.LENGTH_GROW_SHRINK | ArabicShaping.TEXT_DIRECTION_LOGICAL);
        var dice = new SplittableRandom(29);
        for (int i = 0; i < 2_000; i++) {
            String words = words(dice, ARABIC.substring(0, ARABIC.indexOf('پ')).replace("ى", "") + "  1a.");
            assertThat(RightToLeft.joined(words)).as(words).isEqualTo(icu.shape(words));
        }
    }

    @Test
    void joinsPersianLettersToo() {
        // By hand, from the Unicode chart of Arabic Presentation Forms-A: peh initial FB58, gaf final FB93.
        assertThat(RightToLeft.joined("پگ")).isEqualTo("\ufb58\ufb93");
    }

    @Test
    void seesThroughVowelSigns() {
        // By hand: beh initial FE91, fatha as it is, teh final FE96.
        assertThat(RightToLeft.joined("ب\u064eت")).isEqualTo("\ufe91\u064e\ufe96");
    }

    @Test
    void partsWhatItJoined() {
        assertThat(RightToLeft.parted(RightToLeft.joined("السلام عليكم 12"))).isEqualTo("السلام عليكم 12");
    }

    @Test
    void ordersALineAsIcuDoes() {
        // ICU4J 78.1, com.ibm.icu.text.Bidi.writeReordered in a paragraph from the right.
        var dice = new SplittableRandom(30);
        for (int i = 0; i < 2_000; i++) {
            String words = words(dice, HEBREW + ARABIC + "  12,.-()[]abc\u05b8");
            String icu = new Bidi(words, Bidi.RTL).writeReordered(Bidi.DO_MIRRORING | Bidi.KEEP_BASE_COMBINING);
            assertThat(RightToLeft.seen(words)).as(words).isEqualTo(icu);
        }
    }

    @Test
    void keepsNumbersWithTheWordsTheyStandIn() {
        assertThat(RightToLeft.stretches("Part: שלום 12 עולם ok", false))
                .containsExactly(
                        new RightToLeft.Stretch(0, 6, false),
                        new RightToLeft.Stretch(6, 12, true),
                        new RightToLeft.Stretch(18, 3, false));
        assertThat(RightToLeft.stretches("שלום ok", true)).containsExactly(new RightToLeft.Stretch(0, 7, true));
        assertThat(RightToLeft.seen("שלום 12")).isEqualTo("12 םולש");
    }

    @Test
    void knowsWhereAParagraphBegins() {
        assertThat(RightToLeft.begins("12 שלום")).isTrue();
        assertThat(RightToLeft.begins("ok שלום")).isFalse();
        assertThat(RightToLeft.begins("")).isFalse();
        assertThat(RightToLeft.in("Ελληνικά")).isFalse();
    }

    private static String words(SplittableRandom dice, String letters) {
        var words = new StringBuilder();
        for (int i = dice.nextInt(1, 16); i > 0; i--) {
            words.append(letters.charAt(dice.nextInt(letters.length())));
        }
        return words.toString();
    }
}
