(function () {
  "use strict";
  var player = document.getElementById("player");
  if (!player) { return; }
  var media = player.querySelector("video, audio");
  var words = document.getElementById("words-now");
  var sources = media.querySelectorAll("source");

  /* A moment becomes a button once the clip is there; until then, and without it, it is a time. */
  function found() {
    player.hidden = false;
    player.querySelector("figcaption").hidden = false;
    document.querySelectorAll("span[data-at]").forEach(function (time) {
      var button = document.createElement("button");
      button.type = "button";
      button.className = time.className;
      button.dataset.at = time.dataset.at;
      button.textContent = time.textContent;
      button.setAttribute("aria-label", "Play the clip at " + time.textContent);
      time.replaceWith(button);
    });
  }

  function lost() { player.hidden = true; }

  function play(at) {
    media.currentTime = at;
    var playing = media.play();
    if (playing) { playing.catch(function () { media.focus(); }); }
  }

  document.addEventListener("click", function (event) {
    var button = event.target.closest("button[data-at]");
    if (button) { play(Number(button.dataset.at)); }
  });
  media.addEventListener("play", function () { player.classList.add("playing"); });
  ["pause", "ended"].forEach(function (stop) {
    media.addEventListener(stop, function () { player.classList.remove("playing"); });
  });

  var captions = media.textTracks[0];
  if (captions && words) {
    captions.addEventListener("cuechange", function () {
      words.textContent = Array.from(captions.activeCues || [], function (cue) {
        return cue.getCueAsHTML().textContent;
      }).join(" ");
    });
  }

  if (media.readyState >= 1) { found(); } else { media.addEventListener("loadedmetadata", found); }
  if (media.error || media.networkState === 3) { lost(); }
  media.addEventListener("error", lost);
  sources[sources.length - 1].addEventListener("error", lost);
})();
