package idlewright.frame;

import com.openhtmltopdf.bidi.BidiReorderer;
import com.openhtmltopdf.bidi.BidiSplitter;
import com.openhtmltopdf.bidi.BidiTextRun;
import idlewright.frame.rules.RightToLeft;
import java.util.List;

/** Tells the renderer of paper which way words run. */
final class Directions implements BidiSplitter {

    private List<RightToLeft.Stretch> stretches = List.of();

    @Override
    public void setParagraph(String paragraph, byte direction) {
        boolean fromRight = direction == NEUTRAL ? RightToLeft.begins(paragraph) : direction == RTL;
        stretches = RightToLeft.stretches(paragraph, fromRight);
    }

    @Override
    public int countTextRuns() {
        return stretches.size();
    }

    @Override
    public BidiTextRun getVisualRun(int run) {
        var stretch = stretches.get(run);
        return new BidiTextRun(stretch.start(), stretch.length(), stretch.rightToLeft() ? RTL : LTR);
    }

    @Override
    public byte getBaseDirection(String paragraph) {
        return RightToLeft.begins(paragraph) ? RTL : LTR;
    }

    /** Shapes words before they are measured, and turns each line's part of them. */
    static final class Turning implements BidiReorderer {

        @Override
        public String reorderRTLTextToLTR(String words) {
            return RightToLeft.seen(words);
        }

        @Override
        public String shapeText(String words) {
            return RightToLeft.joined(words);
        }

        @Override
        public String deshapeText(String words) {
            return RightToLeft.parted(words);
        }

        @Override
        public boolean isLiveImplementation() {
            return true;
        }
    }
}
