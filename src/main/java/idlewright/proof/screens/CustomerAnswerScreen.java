package idlewright.proof.screens;

import idlewright.frame.Crowd;
import idlewright.frame.Refused;
import idlewright.frame.SentBack;
import idlewright.people.Public;
import idlewright.people.Shops;
import idlewright.proof.AnswerLinks;
import idlewright.proof.rules.Outcome;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.LinkedHashMap;
import java.util.Map;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The customer says behind a secret link how it went. */
@Controller
@Public
class CustomerAnswerScreen {

    private final AnswerLinks links;
    private final Shops shops;
    private final Crowd crowd;
    private final SentBack sentBack;

    CustomerAnswerScreen(AnswerLinks links, Shops shops, Crowd crowd, SentBack sentBack) {
        this.links = links;
        this.shops = shops;
        this.crowd = crowd;
        this.sentBack = sentBack;
    }

    @GetMapping("/answers/{secret:[A-Za-z0-9_-]{22}}")
    String ask(@PathVariable String secret, HttpServletRequest request, HttpServletResponse response, Model model) {
        crowd.letIn(request.getRemoteAddr());
        // The address is the key to the page: it must not travel on in a Referer header, nor stay in a search engine.
        response.setHeader("Referrer-Policy", "no-referrer");
        response.setHeader("X-Robots-Tag", "noindex");
        var page = links.open(secret);
        model.addAttribute("page", page);
        model.addAttribute("secret", secret);
        model.addAttribute("typed", sentBack.typed("/answers/" + secret, request, model));
        model.addAttribute("shop", shops.shop());
        return "proof/customer-answer";
    }

    @PostMapping("/answers/{secret:[A-Za-z0-9_-]{22}}")
    Object answer(@PathVariable String secret, @RequestParam Map<String, String> typed, HttpServletRequest request) {
        crowd.letIn(request.getRemoteAddr());
        try {
            var outcomes = new LinkedHashMap<Integer, Outcome>();
            links.open(secret).symptoms().forEach(symptom -> {
                String said = typed.get("outcome-" + symptom.place());
                for (Outcome outcome : Outcome.values()) {
                    if (outcome.name().equals(said)) {
                        outcomes.put(symptom.place(), outcome);
                    }
                }
            });
            links.answer(secret, outcomes, typed.getOrDefault("words", ""));
            sentBack.forget("/answers/" + secret, request);
            return "redirect:/answers/" + secret;
        } catch (Refused no) {
            return sentBack.to("/answers/" + secret, typed, no, request);
        }
    }
}
