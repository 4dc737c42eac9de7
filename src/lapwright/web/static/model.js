// The finished detail in space: turn it, take it apart, build it up step by step, ask what a piece is.
//
//   <figure data-model="URL of model.glb" data-pitch="30.3">
//     <div data-stage tabindex="0" aria-label="..."></div>
//     <input type="range" data-apart min="0" max="100">   <input type="range" data-step min="0" max="N">
//     <button data-look="upslope">  <button data-look="downslope">  <button data-look="above">
//     <output data-named></output>  <p data-failed hidden>
//   </figure>
//
// Groups of the file are "step NN title" and "standing"; nodes carry a piece's id. Every word is the page's.
// Fires `piece` (detail: id) when one is tapped; the figure listens to `show-piece` (detail: id) to light one.

import {
  Box3, Color, DirectionalLight, EdgesGeometry, GLTFLoader, HemisphereLight, LineBasicMaterial, LineSegments,
  MathUtils, Mesh, MeshLambertMaterial, OrbitControls, PerspectiveCamera, Raycaster, Scene, Vector2, Vector3, WebGLRenderer,
} from "./vendor/three.js";

const FROM = {            // where the eye stands, from what it looks at: x right, y up, z downslope
  upslope: [-0.6, 0.85, -0.75], downslope: [-0.55, 0.75, 0.85], above: [0, 1, 0.02],
};
const APART = 0.09;       // how far apart two steps lie with the slider at its end, in metres
const TURN = 7.5;         // degrees a press of an arrow key turns the view
const TAP = 6;            // a pointer that moved less than this many pixels has tapped

const figures = [...document.querySelectorAll("[data-model]")];
for (const figure of figures) open(figure).catch((why) => failed(figure, why));

function failed(figure, why) {
  console.error(why);
  const note = figure.querySelector("[data-failed]");
  if (note) note.hidden = false;
  for (const control of figure.querySelectorAll("input, button")) control.disabled = true;
}

async function open(figure) {
  const stage = figure.querySelector("[data-stage]");
  const renderer = new WebGLRenderer({ antialias: true, alpha: true });
  stage.append(renderer.domElement);
  const scene = new Scene();
  const camera = new PerspectiveCamera(35, 1, 0.02, 400);
  const sun = new DirectionalLight(0xffffff, 2.2);
  scene.add(new HemisphereLight(0xffffff, 0x8a8a80, 1.6), camera);
  camera.add(sun);
  sun.position.set(-0.6, 0.9, 0.4);

  const file = await new GLTFLoader().loadAsync(figure.dataset.model);
  const pieces = piecesOf(file.scene);
  scene.add(file.scene);
  const view = { figure, stage, renderer, scene, camera, pieces, lit: null, up: roofNormal(figure) };
  view.controls = new OrbitControls(camera, renderer.domElement);
  view.controls.addEventListener("change", () => draw(view));
  const fits = new ResizeObserver(() => fit(view));
  fits.observe(stage);
  lookFrom(view, "upslope");
  listen(view);
  arrange(view);
}

function roofNormal(figure) {
  const theta = MathUtils.degToRad(Number(figure.dataset.pitch) || 0);
  return new Vector3(0, Math.cos(theta), Math.sin(theta));
}

// Each mesh with its step (0 = what stands there before the work), ready for flat light and drawn edges.
function piecesOf(root) {
  const found = [];
  for (const group of root.children) {
    const title = group.userData.name ?? group.name;
    const step = Number(/^step (\d+)/.exec(title)?.[1] ?? 0);
    for (const mesh of group.children) {
      if (!(mesh instanceof Mesh)) continue;
      mesh.geometry = mesh.geometry.toNonIndexed();
      mesh.geometry.computeVertexNormals();
      mesh.material = new MeshLambertMaterial({
        color: mesh.material.color, transparent: mesh.material.opacity < 1, opacity: mesh.material.opacity,
        side: 2, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1,
      });
      const edges = new LineSegments(new EdgesGeometry(mesh.geometry, 18), new LineBasicMaterial({ color: 0x1c211f }));
      const name = mesh.userData.name ?? mesh.name;
      // Membrane lies so close under the metal that its drawn edges would show through.
      if (!name.includes("membrane")) mesh.add(edges);
      found.push({ mesh, edges, name, id: name.replace(/ \(\d+\)$/, ""), step, title, home: mesh.position.clone() });
    }
  }
  return found;
}

function listen(view) {
  const { figure, renderer, stage } = view;
  for (const name of ["apart", "step"]) figure.querySelector(`[data-${name}]`)?.addEventListener("input", () => arrange(view));
  for (const button of figure.querySelectorAll("[data-look]")) {
    button.addEventListener("click", () => lookFrom(view, button.dataset.look));
  }
  figure.addEventListener("show-piece", (event) => light(view, event.detail));
  let down = null;
  renderer.domElement.addEventListener("pointerdown", (event) => { down = [event.clientX, event.clientY]; });
  renderer.domElement.addEventListener("pointerup", (event) => {
    if (down && Math.hypot(event.clientX - down[0], event.clientY - down[1]) < TAP) tap(view, event);
  });
  stage.addEventListener("keydown", (event) => byKey(view, event));
}

// Arrow keys turn, + and - come nearer and go back, 0 shows everything: no pointer is ever needed.
function byKey(view, event) {
  const turn = MathUtils.degToRad(TURN);
  const moves = {
    ArrowLeft: [turn, 0, 1], ArrowRight: [-turn, 0, 1], ArrowUp: [0, turn, 1], ArrowDown: [0, -turn, 1],
    "+": [0, 0, 0.87], "=": [0, 0, 0.87], "-": [0, 0, 1.15],
  };
  if (event.key === "0") lookFrom(view, "upslope");
  else if (event.key in moves) orbit(view, ...moves[event.key]);
  else return;
  event.preventDefault();
}

function orbit(view, round, over, nearer) {
  const { camera, controls } = view;
  const arm = camera.position.clone().sub(controls.target);
  arm.applyAxisAngle(new Vector3(0, 1, 0), round);
  const across = new Vector3(0, 1, 0).cross(arm).normalize();
  const steep = arm.angleTo(new Vector3(0, 1, 0));
  if (steep - over > 0.05 && steep - over < Math.PI - 0.05) arm.applyAxisAngle(across, -over);
  camera.position.copy(controls.target).add(arm.multiplyScalar(nearer));
  controls.update();
  draw(view);
}

// The flashing fills the frame, not the whole roof: panels are cut off by it.
function lookFrom(view, where) {
  const box = new Box3();
  const metal = view.pieces.filter((p) => p.step > 0 && !p.id.startsWith("panel-"));
  for (const p of metal.length ? metal : view.pieces) box.expandByObject(p.mesh);
  const size = box.getSize(new Vector3()).length() || 1;
  // Layers lie a few hundredths of an inch apart: near and far as close together as the roof allows.
  view.camera.near = size / 25;
  view.camera.far = size * 25;
  view.controls.target.copy(box.getCenter(new Vector3()));
  view.camera.position.copy(view.controls.target).addScaledVector(new Vector3(...FROM[where]).normalize(), size * 1.5);
  view.controls.update();
  fit(view);
}

function fit(view) {
  const { clientWidth: width, clientHeight: height } = view.stage;
  if (!width || !height) return;
  view.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
  view.renderer.setSize(width, height);
  view.camera.aspect = width / height;
  view.camera.updateProjectionMatrix();
  draw(view);
}

function value(view, name, otherwise) {
  const control = view.figure.querySelector(`[data-${name}]`);
  return control ? Number(control.value) : otherwise;
}

// What is there at this step, and how far apart it lies; the step's own pieces stand out.
function arrange(view) {
  const last = value(view, "step", Infinity);
  const apart = (value(view, "apart", 0) / 100) * APART;
  const steps = [...new Set(view.pieces.map((p) => p.step))].sort((a, b) => a - b);
  for (const p of view.pieces) {
    p.mesh.visible = p.step <= last;
    p.mesh.position.copy(p.home).addScaledVector(view.up, apart * steps.indexOf(p.step));
    p.mesh.material.emissive = new Color(p.step > 0 && p.step === last ? 0x2a3a12 : 0x000000);
    p.edges.material.color.set(view.lit === p.id ? 0xb3261e : 0x1c211f);
    if (view.lit === p.id) p.mesh.material.emissive = new Color(0x5a1a10);
  }
  draw(view);
}

function tap(view, event) {
  const box = view.renderer.domElement.getBoundingClientRect();
  const at = new Vector2(((event.clientX - box.left) / box.width) * 2 - 1, 1 - ((event.clientY - box.top) / box.height) * 2);
  const ray = new Raycaster();
  ray.setFromCamera(at, view.camera);
  const hit = ray.intersectObjects(view.pieces.filter((p) => p.mesh.visible).map((p) => p.mesh), false)[0];
  const piece = hit && view.pieces.find((p) => p.mesh === hit.object);
  light(view, piece?.id ?? null);
  view.figure.dispatchEvent(new CustomEvent("piece", { detail: piece?.id ?? null, bubbles: true }));
}

function light(view, id) {
  view.lit = id;
  const piece = view.pieces.find((p) => p.id === id);
  const named = view.figure.querySelector("[data-named]");
  if (named) named.textContent = piece ? `${piece.id}: ${piece.title.replace(/^step 0*/, "")}` : "";
  arrange(view);
}

function draw(view) {
  view.renderer.render(view.scene, view.camera);
}
