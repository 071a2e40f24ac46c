package idlewright.frame;

import jakarta.servlet.http.HttpServletRequest;
import java.io.Serializable;
import java.util.LinkedHashMap;
import java.util.Map;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.view.RedirectView;

/**
 * A form that a customer sent with something wrong in it is shown again by an address, not as the answer to the post: going
 * back or loading the page again then sends nothing. What was typed waits in the session until the form is sent rightly.
 */
@Component
public class SentBack {

    private static final int MOST_FIELDS = 60;
    private static final int LONGEST = 5_000;

    /** What was typed, and what is wrong with it. */
    private record Kept(Map<String, String> typed, Map<String, String> problems) implements Serializable {}

    /** Keeps what was typed and leads back to the page; no string, so that nothing of the post is committed. */
    public ModelAndView to(String page, Map<String, String> typed, Refused no, HttpServletRequest request) {
        var kept = new LinkedHashMap<String, String>();
        typed.forEach((name, value) -> {
            if (kept.size() < MOST_FIELDS && !name.equals("_csrf") && !name.equals("submission")) {
                kept.put(name, value.length() > LONGEST ? value.substring(0, LONGEST) : value);
            }
        });
        request.getSession().setAttribute(key(page), new Kept(kept, new LinkedHashMap<>(no.problems())));
        var back = new RedirectView(page, true);
        back.setStatusCode(HttpStatus.SEE_OTHER);
        back.setExposeModelAttributes(false);
        return new ModelAndView(back);
    }

    /** What waits for the page, with what is wrong told in the model; nothing on a first visit. */
    public Map<String, String> typed(String page, HttpServletRequest request, Model model) {
        var session = request.getSession(false);
        if (session != null && session.getAttribute(key(page)) instanceof Kept kept) {
            model.addAttribute("problems", kept.problems());
            return kept.typed();
        }
        return Map.of();
    }

    /** It was sent rightly. */
    public void forget(String page, HttpServletRequest request) {
        var session = request.getSession(false);
        if (session != null) {
            session.removeAttribute(key(page));
        }
    }

    private static String key(String page) {
        return SentBack.class.getName() + " " + page;
    }
}
