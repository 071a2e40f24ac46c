package idlewright.journal;

import idlewright.journal.rules.ImageMark;
import idlewright.journal.rules.Sketch;
import java.util.List;

/** A picture with what was drawn beside it. */
public record Marked(Exhibit exhibit, Sketch sketch, List<ImageMark> marks) {

    /** What the picture shows, for those who do not see it. */
    public String alt() {
        return exhibit.caption().isEmpty() ? exhibit.what() + " " + exhibit.name() : exhibit.caption();
    }

    public String url() {
        return "/exhibits/" + exhibit.id();
    }
}
